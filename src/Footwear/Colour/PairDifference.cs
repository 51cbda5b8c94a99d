using System.Collections.Immutable;
using Pairbench.Imaging.Colour;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Colour;

/// <summary>Two patches and what they differ by: second less first.</summary>
internal sealed record PairDifference(PatchReading First, PatchReading Second, ImmutableArray<ColourShift> Shifts)
{
    public string Name => $"{First.Patch.Id}..{Second.Patch.Id}";

    public Lab Difference => Second.Colour - First.Colour;

    public Measured Coordinate(Func<Lab, double> of) =>
        Measured.Of(of(Difference), "", Shifts.Select(s => new Contribution(s.Cause, s.Evaluation, of(s.Shift), s.DegreesOfFreedom)));

    /// <summary>The size of the difference by a measure, with draws from what is known of it; and what two equal colours would read on average.</summary>
    /// <param name="shown">Turns a size into the value that is shown, such as a grade.</param>
    public (Measured Value, double EqualReads) Size(DifferenceMeasure measure, string unit, string cause, Func<double, double> shown)
    {
        double Of(Lab difference)
        {
            Span<double> result = stackalloc double[1];
            measure([First.Colour], [First.Colour + difference], result);
            return shown(result[0]);
        }

        var value = Of(Difference);
        if (Shifts.IsEmpty)
        {
            return (Measured.Exact(value, unit), 0);
        }

        var (draws, equalReads) = DifferenceKnowledge.Of(
            measure,
            First.Colour,
            Difference,
            [.. Shifts.Select(s => new DifferenceShift(new Contribution(s.Cause, s.Evaluation, 0).Estimate, s.Shift, s.DegreesOfFreedom))]);
        ImmutableArray<double> samples = [.. draws.Select(shown)];
        var variance = Math.Pow(Summary.Of(samples.AsSpan()).StandardDeviation, 2);
        var budget = Shifts
            .Select(s => new Contribution(s.Cause, s.Evaluation, (Of(Difference + s.Shift) - Of(Difference - s.Shift)) / 2, s.DegreesOfFreedom))
            .ToImmutableArray();
        var linear = budget.Sum(c => c.Value * c.Value);
        budget = linear <= variance
            ? budget.Add(new Contribution(cause, Evaluation.TypeB, Math.Sqrt(variance - linear)))
            : [.. budget.Select(c => c with { Value = c.Value * Math.Sqrt(variance / linear) })];
        return (Measured.Of(value, unit, budget).WithSamples(samples), equalReads);
    }

    /// <summary>What the second is against the first, in words.</summary>
    public string Words
    {
        get
        {
            var d = Difference;
            string[] said =
            [
                Side(d.L, Coordinate(l => l.L).StandardUncertainty, "lighter", "darker"),
                Side(d.A, Coordinate(l => l.A).StandardUncertainty, "redder", "greener"),
                Side(d.B, Coordinate(l => l.B).StandardUncertainty, "yellower", "bluer"),
            ];
            var seen = said.Where(s => s.Length > 0).ToArray();
            return seen.Length == 0 ? $"{Second.Patch.Id} cannot be told from {First.Patch.Id}" : $"{Second.Patch.Id} is {string.Join(", ", seen)} than {First.Patch.Id}";
        }
    }

    private static string Side(double value, double uncertainty, string above, string below) =>
        Math.Abs(value) < 2 * uncertainty ? "" : value > 0 ? above : below;
}
