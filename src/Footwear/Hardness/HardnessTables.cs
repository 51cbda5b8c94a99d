using System.Collections.Immutable;
using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;
using static Pairbench.Footwear.Plain;

namespace Pairbench.Footwear.Hardness;

/// <summary>What stands beside the figures of hardness, for the report.</summary>
internal static class HardnessTables
{
    public static ImmutableArray<Table> Of(
        List<SpotRead> spots,
        ImmutableArray<ValidityRow> validity,
        ImmutableArray<(SpotRead First, SpotRead Second, Comparison Comparison)> compared,
        double? equalWithin,
        ImmutableArray<(Circumstances Taken, IReadOnlyList<string> Spots)> circumstances) =>
    [
        .. spots.Count > 0 ? [Spots(spots)] : ImmutableArray<Table>.Empty,
        .. spots.Any(s => s.Modulus is not null) ? [Moduli(spots)] : ImmutableArray<Table>.Empty,
        .. compared.IsEmpty ? ImmutableArray<Table>.Empty : [Comparisons(compared, equalWithin)],
        .. validity.IsEmpty ? ImmutableArray<Table>.Empty : [Validities(validity)],
        .. Circumstances.Tables(circumstances),
    ];

    private static Table Spots(List<SpotRead> spots) => new(
        "spots",
        "Spots",
        [new("spot", "Spot"), new("component", "Component"), new("scale", "Scale"), new("readings", "Readings"), new("spread", "Spread (standard deviation)"), new("surface", "Surface"), new("force", "Force of the spring"), new("indentation", "Indentation"), new("tooHard", "Reads off by about")],
        [.. spots.Select(s => ImmutableArray.Create<Cell>(
            s.Spot.Id,
            s.Spot.Component ?? "not stated",
            s.Scale.Label,
            string.Join(" ", s.Spot.Readings.Select(Number)),
            Spread(s),
            SpotRead.Words(s.Spot.Surface),
            OnGauge(s, "N", s.Spring.ForceN, s.Spring.PerPointN),
            OnGauge(s, "mm", s.Spring.IndentationMm, -s.Spring.ProtrusionMm / 100),
            s.Thick.Pad is { } pad ? $"{pad.Words} than thick" : new Cell.Empty()))]);

    private static Table Moduli(List<SpotRead> spots) => new(
        "moduli",
        "Young's modulus by each published relation",
        [new("spot", "Spot"), new("relation", "Relation"), new("modulus", "Modulus"), new("range", "Published for"), new("source", "Source")],
        [.. from s in spots
            from r in s.Modulus?.Relations ?? []
            select ImmutableArray.Create<Cell>(s.Spot.Id, r.Name, Along(s, "MPa", r.MPa(s.Hardness.Value), Slope(r.MPa, s.Hardness.Value)), $"{Number(r.From)} to {Number(r.To)}", r.Source)]);

    private static Table Comparisons(ImmutableArray<(SpotRead First, SpotRead Second, Comparison Comparison)> compared, double? equalWithin) => new(
        "comparisons",
        "Different, or equal within a tolerance",
        [new("first", "Spot"), new("second", "Less spot"), new("difference", "Difference"), new("pDifferent", "p of no difference (t, two-sided)"), new("tolerance", "Equal within"), new("pEqual", "p of inequality (two one-sided t)"), new("says", "Says, at 5 %")],
        [.. compared.Select(c => ImmutableArray.Create<Cell>(
            c.First.Spot.Id,
            c.Second.Spot.Id,
            c.Comparison.Difference,
            Measured.Exact(c.Comparison.Different, "1"),
            equalWithin is { } points ? Measured.Exact(points, EnumWords.Of(c.First.Scale.Scale)) : new Cell.Empty(),
            c.Comparison.Equal is { } p ? Measured.Exact(p, "1") : new Cell.Empty(),
            c.Comparison.Words(equalWithin)))]);

    private static Table Validities(ImmutableArray<ValidityRow> validity) => new(
        "validity",
        "Conditions of the standard",
        [new("spot", "Spot"), new("condition", "Condition"), new("asked", "Asked"), new("given", "Given"), new("met", "Met"), new("words", "What to do")],
        [.. validity.Select(v => ImmutableArray.Create<Cell>(
            v.Spot,
            v.Condition,
            v.Asked,
            v.Given,
            v.Met switch { Met.Yes => "yes", Met.No => "no", _ => "not stated" },
            v.Words))]);

    /// <summary>With what so few readings leave open of it: s over the root of twice the degrees of freedom, for readings that spread as a normal distribution does.</summary>
    private static Cell Spread(SpotRead spot)
    {
        var (deviation, degrees) = (Repeats.StandardDeviation(spot.Spot.Readings), spot.Spot.Readings.Length - 1);
        return deviation > 0
            ? Measured.Of(deviation, EnumWords.Of(spot.Scale.Scale), $"few-readings:{spot.Spot.Id}", deviation / Math.Sqrt(2 * degrees), Evaluation.TypeA, degrees)
            : Measured.Exact(0, EnumWords.Of(spot.Scale.Scale));
    }

    private static double Slope(Func<double, double> of, double at)
    {
        const double half = 0.01;
        return (of(at + half) - of(at - half)) / (2 * half);
    }

    /// <summary>A gauge goes no further than from 0 to 100: its spring and its probe end there.</summary>
    private static Cell OnGauge(SpotRead spot, string unit, Func<double, double> of, double slope) =>
        Along(spot, unit, of(spot.Hardness.Value), slope).Within(Math.Min(of(0), of(100)), Math.Max(of(0), of(100)));

    private static Measured Along(SpotRead spot, string unit, double value, double slope) =>
        Measured.Of(value, unit, spot.Hardness.Budget.Select(c => c with { Value = slope * c.Value }));
}
