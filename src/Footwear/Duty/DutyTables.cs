using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>What the examination found, as tables.</summary>
internal static class DutyTables
{
    public const string LinesId = "lines";

    /// <summary>The answer in words: of the line, and of first place in contact with the ground where shares are known.</summary>
    public static Table Says(string line, string contact) => new(
        "says",
        "In words",
        [new("of", "of"), new("words", "says")],
        [ImmutableArray.Create<Cell>("line", line), .. contact.Length > 0 ? [ImmutableArray.Create<Cell>("contact", contact)] : ImmutableArray<ImmutableArray<Cell>>.Empty]);

    public static Table Lines(Classification found, Measured? value, Schedule schedule, ImmutableDictionary<string, double>? chances) => new(
        LinesId,
        found.Lines.Length == 1 ? "Line" : "Lines that remain possible",
        [new("code", "line"), new("rateText", "general rate"), new("because", "because"), new("gist", "words of the line"), new("duty", "duty per pair"), new("probability", "probability"), new("status", "rate was")],
        [.. found.Lines.Select(l => ImmutableArray.Create<Cell>(
            l.Code,
            l.RateText,
            new Cell.Texts(Because(l, found)),
            l.Gist,
            value is null ? new Cell.Empty() : Charges.Shown(BranchDuty.Of(l, value, schedule.Currency), schedule.Currency),
            chances is null ? new Cell.Empty() : Percent(chances.GetValueOrDefault(l.Code)),
            l.Status))],
        TableForm.NamedRows);

    public static Table Missing(ImmutableArray<MissingFact> missing) => new(
        "missing",
        "Facts that would decide, the one that narrows most first",
        [new("fact", "fact"), new("question", "question")],
        [.. missing.Select(m => ImmutableArray.Create<Cell>(m.Place, m.Words))],
        TableForm.NamedTexts);

    /// <summary>What was asked, first what the words of the lines that remain ask for.</summary>
    public static Table Way(Classification found, ImmutableArray<MissingFact> missing, FactRules rules)
    {
        var deciding = rules.Facts.Where(r => r.From.Any(f => missing.Any(m => m.Place == f))).Select(r => r.Fact).ToHashSet(StringComparer.Ordinal);
        var asked = found.Lines.SelectMany(l => l.All.Concat(l.None.SelectMany(n => n))).Select(a => a.Fact).ToHashSet(StringComparer.Ordinal);
        return new Table(
            "way",
            "The way through the law",
            [new("question", "question"), new("answer", "answered by"), new("law", "rests on"), new("part", "part")],
            [.. found.Steps.Where(s => !s.IsOpen || s.Answer != "open").OrderBy(s => !asked.Contains(s.Fact)).Select(s => ImmutableArray.Create<Cell>(s.Question, s.Answer, s.Law, s.IsOpen && deciding.Contains(s.Fact) ? DutyWay.ForksHere : asked.Contains(s.Fact) ? DutyWay.InTheLine : DutyWay.Elsewhere))]);
    }

    public static Table Branches(ImmutableArray<MissingFact> missing, Measured? value, Schedule schedule) => new(
        "branches",
        "What each answer leads to",
        [new("fact", "fact"), new("answer", "if"), new("lines", "then"), new("duty", "duty per pair")],
        [.. missing.Take(8).SelectMany(m => m.Outcomes.Select(o => ImmutableArray.Create<Cell>(m.Place, o.Answer, Few(o.Lines), value is null ? Few([.. o.Lines], rates: true) : Money(o.Lines, value, schedule.Currency))))]);

    public static Table OnTop(ImmutableArray<Charge> charges, string currency) => new(
        "on-top",
        "On top of the duty",
        [new("name", "charge"), new("perPair", "per pair"), new("how", "how")],
        [.. charges.Select(c => ImmutableArray.Create<Cell>(c.Name, string.Create(CultureInfo.InvariantCulture, $"{c.PerPair.Value:0.0000}{(c.PerPair.IsExact ? "" : FormattableString.Invariant($" ± {c.PerPair.ExpandedUncertainty():0.0000}"))} {currency}"), c.Words))]);

    public static string Percent(double chance) => chance is > 0 and < 0.001 ? "under 0.1 %" : string.Create(CultureInfo.InvariantCulture, $"{100 * chance:0.#} %");

    private static ImmutableArray<string> Because(ScheduleLine line, Classification found) => [
        .. line.All.Select(a => a.ToString()).Distinct(),
        .. found.Steps.Where(s => !s.IsOpen && line.All.Any(a => s.Place.EndsWith(a.Fact, StringComparison.OrdinalIgnoreCase))).Select(s => $"{s.Answer} ({s.Law})")];

    public static string Few(ImmutableArray<ScheduleLine> lines, bool rates = false) => lines.Length > 6
        ? $"{lines.Length} lines"
        : string.Join(", ", lines.Select(l => rates ? l.RateText : $"{l.Code} ({l.RateText})").Distinct());

    public static string Money(ImmutableArray<ScheduleLine> lines, Measured value, string currency)
    {
        var least = Charges.Cents(lines.Min(l => BranchDuty.Of(l, value, currency).Value));
        var most = Charges.Cents(lines.Max(l => BranchDuty.Of(l, value, currency).Value));
        return least == most ? string.Create(CultureInfo.InvariantCulture, $"{least:0.00} {currency}") : string.Create(CultureInfo.InvariantCulture, $"{least:0.00} to {most:0.00} {currency}");
    }
}
