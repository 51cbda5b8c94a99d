using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>The tables of a cost sheet.</summary>
internal static class CostTables
{
    /// <summary>Columns of the steps beside those that are named after the changes.</summary>
    public const string StepColumn = "step";

    public const string SheetColumn = "sheet";

    /// <summary>Money as it is paid: rounded, every total the sum of what stands above it.</summary>
    public static Table Column(ImmutableArray<Step> shown, CostModel model, CostFigures figures)
    {
        var steps = figures.Steps(model);
        var money = Step.Rounded(steps, figures.CurrencyDecimals);
        var running = 0m;
        return new(
            "column",
            "From materials to landed, per pair, rounded so that it adds up",
            [new("step", "Step"), new("amount", $"Amount, {figures.Currency}"), new("running", $"So far, {figures.Currency}"), new("share", "Share of landed")],
            [.. shown.Select(s =>
            {
                running = s.IsTotal ? money[s.Id] : running + money[s.Id];
                return ImmutableArray.Create<Cell>(
                    s.Label,
                    Money.Text(money[s.Id], figures.CurrencyDecimals),
                    Money.Text(running, figures.CurrencyDecimals),
                    Share(s.Decimal(steps), steps.Landed));
            })]);
    }

    /// <summary>Every step with its uncertainty, of the sheet and of each change.</summary>
    public static Table Steps(ImmutableArray<Step> shown, CostModel model, ImmutableArray<TriedChange> tried, CostFigures figures) => new(
        "steps",
        "Every step with its uncertainty, as it is and as changed",
        [new(StepColumn, "Step"), new(SheetColumn, "As it is"), .. tried.Select(t => new Column(t.Trial.Change.Id, t.Trial.Change.Name))],
        [.. shown.Select(s => ImmutableArray.Create<Cell>(s.Label, s.Of(model, figures)).AddRange(tried.Select(t => (Cell)s.Of(t.Trial.After, figures))))])
    {
        Keys = [.. shown.Select(s => s.Id)],
    };

    public static Table Bill(CostEvidence sheet, CostModel model, CostFigures figures)
    {
        var decimals = figures.CurrencyDecimals;
        var money = Step.Rounded(figures.Steps(model), decimals);
        var amounts = Money.Apportion(CostLines.Amounts(model.Materials, figures), money["materials"], decimals);
        return new(
            "bill",
            "Bill of materials, per pair, rounded so that it adds up to the materials",
            [new("line", "Line"), new("component", "Component"), new("material", "Material"), new("net", "Net"), new("waste", "Waste"), new("price", "Price"), new("amount", $"Amount, {figures.Currency}"), new("mass", "Mass")],
            [
                .. sheet.Lines.Select((l, i) => ImmutableArray.Create<Cell>(
                    l.Id,
                    l.Component,
                    l.Material,
                    Net(l),
                    l.WastePct is { } waste ? $"{Display.Of(waste)} of the {(l.WasteOf == WasteBasis.Net ? "net" : "gross")}" : new Cell.Empty(),
                    Price(l, sheet.Currency),
                    Money.Text(amounts[i], decimals),
                    Mass.Of(l) is { } mass ? mass : new Cell.Empty())),
                ImmutableArray.Create<Cell>("total", "", "", new Cell.Empty(), new Cell.Empty(), new Cell.Empty(), Money.Text(money["materials"], decimals), new Cell.Empty())]);
    }

    /// <summary>What matters most, first.</summary>
    public static Table Tornado(Measured landed, CostInputs inputs) => new(
        "tornado",
        "What the uncertainty of the landed cost comes from, the largest first",
        [new("cause", "Cause"), new("what", "What it is behind"), new("contribution", $"One standard uncertainty moves landed by, {landed.Unit}"), new("share", "Share of the variance")],
        [.. Ranked(landed).Select(c => ImmutableArray.Create<Cell>(
            CauseWords.Of(c.Cause),
            inputs.NameOf(c.Cause),
            Measured.Exact(Math.Round(c.Value, 6), landed.Unit),
            Share((decimal)(c.Value * c.Value), (decimal)landed.Budget.Sum(b => b.Value * b.Value))))]);

    public static IEnumerable<Contribution> Ranked(Measured landed) => landed.Budget.OrderByDescending(c => Math.Abs(c.Value)).ThenBy(c => c.Cause, StringComparer.Ordinal);

    public static Table Simulation(int seed, ImmutableArray<(string Of, Simulated Draws)> all) => new(
        "simulation",
        FormattableString.Invariant($"Propagation and draws side by side (seed {seed}), 95 %"),
        [new("of", "Of"), new("draws", "Draws"), new("propagated", "By propagation"), new("drawn", "By draws"), new("agree", "Agree")],
        [.. all.Select(a =>
        {
            var (line, drawn) = (a.Draws.Linear.CoverageInterval(), a.Draws.Symmetric());
            return ImmutableArray.Create<Cell>(
                a.Of,
                a.Draws.Draws.Length.ToString(CultureInfo.InvariantCulture),
                Words(a.Draws.Linear.Value, a.Draws.Linear.StandardUncertainty, line),
                Words(a.Draws.Mean, a.Draws.StandardUncertainty, drawn),
                a.Draws.LinearHolds() ? "to two digits of u" : a.Draws.LinearHolds(digits: 1) ? "to one digit of u" : "no: the figure keeps the draws");
        })]);

    public static Table Changes(ImmutableArray<TriedChange> tried) => new(
        "changes",
        "What each change does",
        [new("change", "Change"), new("landed", "Landed"), new("difference", "Difference landed"), new("dearer", "Probability that it is dearer"), new("mass", "Difference in mass"), new("volume", "Over the volume")],
        [.. tried.Select(t => ImmutableArray.Create<Cell>(
            t.Trial.Change.Name,
            t.Landed,
            t.Difference,
            t.Difference.StandardUncertainty == 0 ? new Cell.Empty() : Shown.Probability(1 - t.Difference.ProbabilityAtMost(0)),
            t.MassDifference is { } mass ? mass : "not known: a line that differs says neither mass nor mass per area",
            t.ForVolume is { } volume ? volume : new Cell.Empty()))])
    {
        Keys = [.. tried.Select(t => t.Trial.Change.Id)],
    };

    public static Table BreakEvens(ImmutableArray<TriedChange> tried) => new(
        "break-even",
        "The price of a line of the changed bill at which both land at the same cost",
        [new("change", "Change"), new("line", "Line"), new("material", "Material"), new("price", "Price"), new("words", "Says")],
        [.. tried.SelectMany(t => t.BreakEvens.Select(b => ImmutableArray.Create<Cell>(
            t.Trial.Change.Name,
            b.Line,
            b.Material,
            b.Price is { } price ? price : new Cell.Empty(),
            b.Price is null ? "No price lands the same: even for nothing the change costs more, or nothing of the line is used." : "Below this price the change is cheaper.")))])
    {
        Keys = [.. tried.SelectMany(t => t.BreakEvens.Select(_ => t.Trial.Change.Id))],
    };

    public static Table Touches(ImmutableArray<TriedChange> tried)
    {
        var touched = tried.SelectMany(t => TouchedWords.Of(t).Select(w => (t.Trial.Change, w.What, w.Words))).ToImmutableArray();
        return new(
            "touches",
            "What else the changes touch",
            [new("change", "Change"), new("what", "What"), new("words", "Words")],
            [.. touched.Select(t => ImmutableArray.Create<Cell>(t.Change.Name, t.What, t.Words))])
        {
            Keys = [.. touched.Select(t => t.Change.Id)],
        };
    }

    /// <summary>The duty lines that the facts give, as it is and as changed.</summary>
    public static Table Duties(WorkedSheet sheet, ImmutableArray<TriedChange> tried, CostFigures figures) => new(
        "duty-lines",
        "The duty line by the facts, as it is and as changed",
        [new("of", "Of"), new("line", "Line"), new("customs", "Customs value"), new("duty", "Duty, with extra duties by origin"), new("words", "Says")],
        [.. new[] { (Name: "as it is", sheet.Model, sheet.Paid) }.Concat(tried.Where(t => t.Trial.Duty is not null).Select(t => (t.Trial.Change.Name, Model: t.Trial.After, Paid: t.Trial.Duty!.After))).Select(d => ImmutableArray.Create<Cell>(
            d.Name,
            d.Paid.Lines,
            figures.Amount(d.Model.CustomsOf<decimal>(figures.Decimals), x => d.Model.CustomsOf(x)),
            figures.Duty(d.Model),
            string.Join(" ", d.Paid.Notes)))]);

    /// <summary>What a pair pays and costs on each line that is left, of the sheet and of each change whose line is open.</summary>
    public static ImmutableArray<Table> Branches(ImmutableArray<BranchCost> sheet, ImmutableArray<TriedChange> tried)
    {
        var branches = new[] { (Id: "", Name: "as it is", Branches: sheet) }.Concat(tried.Select(t => (t.Trial.Change.Id, t.Trial.Change.Name, t.Branches)))
            .SelectMany(o => o.Branches.Select(b => (o.Id, o.Name, Cost: b)))
            .ToImmutableArray();
        return branches.IsEmpty ? [] : [new(
            "duty-branches",
            "Where the duty line is open: what a pair costs on each line that remains",
            [new("of", "Of"), new("line", "Line"), new("rate", "Rate"), new("chance", "Probability"), new("duty", "Duty, with extra duties by origin"), new("landed", "Landed")],
            [.. branches.Select(b => ImmutableArray.Create<Cell>(b.Name, b.Cost.Branch.Line.Code, b.Cost.Branch.Line.RateText, b.Cost.Branch.Chance is { } chance ? Shown.Probability(chance) : "not known", b.Cost.Duty, b.Cost.Landed))])
        {
            Keys = [.. branches.Select(b => b.Id)],
        }];
    }

    private static string Words(double value, double u, Interval interval) => FormattableString.Invariant($"{value:0.0000}, u {u:0.0000}, {interval.Lower:0.0000} to {interval.Upper:0.0000}");

    private static Cell Share(decimal part, decimal whole) => whole == 0 ? new Cell.Empty() : FormattableString.Invariant($"{100 * part / whole:0.0} %");

    private static Cell Net(CostLine line) => line.Per switch
    {
        PriceBasis.Kilogram when line.MassG is { } mass => mass,
        PriceBasis.Piece when line.Pieces is { } pieces => $"{Display.Of(pieces)} pieces",
        PriceBasis.Pair => "a pair",
        _ when line.NetAreaDm2 is { } area => area,
        _ when line.MassG is { } mass => mass,
        _ => new Cell.Empty(),
    };

    private static Cell Price(CostLine line, string own)
    {
        var price = Shown.Of(line.Price);
        var number = price.Uncertainty.Length > 0 ? $"{price.Value} ± {price.Uncertainty}" : price.Value;
        var currency = line.Price.Unit.Length > 0 ? line.Price.Unit.Split('/')[0] : line.Currency ?? own;
        var per = line.Per switch { PriceBasis.SquareMetre => "m²", PriceBasis.RunningMetre => "m", PriceBasis.Kilogram => "kg", PriceBasis.Pair => "pair", _ => "piece" };
        var list = line.PriceList is { } named ? $" ({named})" : "";
        return $"{number} {currency}/{per}{list}";
    }
}
