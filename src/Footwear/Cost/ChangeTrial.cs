using System.Collections.Immutable;
using MathNet.Numerics.RootFinding;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>The price of one line of a changed sheet at which both sheets land at the same cost.</summary>
/// <param name="Price">In the currency and for the unit of the line; null where no price does it.</param>
internal sealed record BreakEven(string Line, string Material, Measured? Price);

/// <summary>The duty worked out before and after a change.</summary>
internal sealed record DutyMove(PaidDuty Before, WorkedSheet Sheet)
{
    public PaidDuty After => Sheet.Paid;
}

/// <summary>A change as tried against the sheet: both formulas over the same inputs.</summary>
/// <param name="Duty">Null where the duty is typed.</param>
/// <param name="Oven">Null where no stack is given, or where the change touches none of it.</param>
internal sealed record ChangeTrial(CostChange Change, CostEvidence Sheet, CostModel Before, CostModel After, DutyMove? Duty, OvenMove? Oven)
{
    private const double SolverAccuracy = 1e-9;

    /// <summary>Landed after less landed before, per pair, not rounded; causes that both share fall out.</summary>
    public (Measured Figure, Simulated Draws) Difference(CostFigures figures) => figures.Simulate(
        Change.Id,
        figures.Steps(After).Landed - figures.Steps(Before).Landed,
        x => After.Evaluate(x).Landed - Before.Evaluate(x).Landed);

    /// <summary>Mass of a pair after less before, g; null where the mass of a line that differs is not known.</summary>
    public Measured? MassDifference(CostEvidence before)
    {
        static object Stuff(CostLine line) => (line.Id, line.Material, line.MassG, line.NetAreaDm2, line.GramsPerM2);
        var (old, other) = (before.Lines.Select(Stuff).ToHashSet(), Sheet.Lines.Select(Stuff).ToHashSet());
        return (Mass.Sum(before.Lines.Where(l => !other.Contains(Stuff(l)))), Mass.Sum(Sheet.Lines.Where(l => !old.Contains(Stuff(l))))) is ({ } was, { } now) ? now - was : null;
    }

    /// <summary>The lines whose price is asked for: named ones, else those that have another price or material, and those that are new.</summary>
    public ImmutableArray<BreakEven> BreakEvens(CostFigures figures, Currencies currencies, CostInputs inputs)
    {
        var asked = Change.BreakEven.IsEmpty
            ? [.. Change.Lines.Where(l => l.Price is not null || l.PriceTimes is not null || l.Material is not null).Select(l => l.Id), .. Change.Add.Select(l => l.Id), .. Change.Strobel is { } strobel ? [strobel.Sock.Id] : ImmutableArray<string>.Empty]
            : Change.BreakEven;
        return [.. asked.Distinct().Select(id => Solve(After.Materials.First(m => m.Id == id), Sheet.Lines.First(l => l.Id == id), figures, currencies, inputs))];
    }

    private BreakEven Solve(Item item, CostLine line, CostFigures figures, Currencies currencies, CostInputs inputs)
    {
        var unit = $"{currencies.CurrencyOf(line.Price, line.Currency ?? "")}/{PerUnit(line.Per)}";
        double[] values = [.. inputs.Values.Select(v => v.Value)];
        return Root(values, item) is not >= 0
            ? new BreakEven(line.Id, line.Material, null)
            : new BreakEven(line.Id, line.Material, Settled(figures.Number(unit, x => Root(x, item) ?? double.NaN)));
    }

    /// <summary>A root that hangs on no input is known exactly: what is left of an uncertainty is the accuracy of the solver.</summary>
    private static Measured Settled(Measured price) => price.StandardUncertainty < SolverAccuracy * Math.Max(1, Math.Abs(price.Value))
        ? Measured.Exact(Math.Round(price.Value, 9), price.Unit)
        : price;

    /// <summary>Landed cost rises with every price, so that there is one root or none; below zero it means that even a gift would land dearer.</summary>
    private double? Root(ReadOnlySpan<double> inputs, Item item)
    {
        const double highest = 1e9;
        var values = inputs.ToArray();
        var target = Before.Evaluate(inputs).Landed;
        double Over(double price)
        {
            values[item.Price] = price;
            return After.Evaluate<double>(values).Landed - target;
        }

        var lifted = 1.0;
        foreach (var factor in item.Term.Factors.Where(f => f.Kind == FactorKind.ShareTimes))
        {
            lifted *= factor.Of(inputs);
        }

        var reach = Math.Max(1, inputs[item.Price]);
        while (reach < highest && (Over(reach) < 0 || Over(-reach) > 0))
        {
            reach *= 2;
        }

        return Over(-reach) < Over(reach) && Brent.TryFindRoot(Over, -reach, reach, 1e-12, 200, out var root) ? root * lifted : null;
    }

    private static string PerUnit(PriceBasis per) => per switch
    {
        PriceBasis.SquareMetre => "m2",
        PriceBasis.RunningMetre => "m",
        PriceBasis.Kilogram => "kg",
        PriceBasis.Pair => "{pair}",
        _ => "{piece}",
    };
}

/// <summary>What the lines of a bill weigh in the pair.</summary>
internal static class Mass
{
    /// <summary>Of one line, g; null where neither mass nor area with mass per area is given.</summary>
    public static Measured? Of(CostLine line) => line switch
    {
        { MassG: { } mass } => mass,
        { NetAreaDm2: { } area, GramsPerM2: { } gsm } => 0.01 * Measured.Product(area, gsm, "g"),
        _ => null,
    };

    /// <summary>Null where a line does not say.</summary>
    public static Measured? Sum(IEnumerable<CostLine> lines)
    {
        var masses = lines.Select(Of).ToImmutableArray();
        return masses.Any(m => m is null) ? null : masses.Aggregate(Measured.Exact(0, "g"), (sum, m) => sum + m!);
    }
}
