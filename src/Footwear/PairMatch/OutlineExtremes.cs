using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>The largest differences of an outline map, as read, with draws of what is known of them.</summary>
/// <remarks>
/// Of many places the one that noise lifts most seems the largest, so that two equal shoes read apart by more than the uncertainty of a place. Two things hold whatever the outlines are like: the true largest
/// is at least the largest reading less the largest noise of all places, and at most the largest reading less the noise of the place that truly is the largest. The lower half of the draws
/// are of the first, the upper half of the second. Places that lie so far below the largest that noise cannot have put them there are out of it (moment selection, Andrews and Soares 2010, from memory).
/// Noise is drawn for all places together, so that what moves the whole outline moves it alike.
/// </remarks>
/// <param name="Largest">Of whichever sign, mm.</param>
/// <param name="LeftBeyond">Where the left shoe stands out most, mm.</param>
/// <param name="RightBeyond">Where the right shoe stands out most, mm; below zero.</param>
internal sealed record OutlineExtremes(Measured Largest, Measured LeftBeyond, Measured RightBeyond)
{
    private const int Draws = 2000;

    /// <summary>Shares no factor with <see cref="Draws"/>: draws in ascending order are paired with others at every so many steps as if they were shuffled.</summary>
    private const int Stride = 617;

    /// <param name="file">Of the left photograph; names what the many places add.</param>
    public static OutlineExtremes Of(OutlineMap map, string file)
    {
        ImmutableArray<Measured> differences = [.. map.Places.Select(p => p.Difference)];
        if (differences.All(d => d.StandardUncertainty == 0))
        {
            return new(map.Largest.Difference, map.LeftBeyond.Difference, map.RightBeyond.Difference);
        }

        var noise = new MonteCarlo(1).Sets(Draws, differences).Select(set => set.Zip(differences, (drawn, d) => drawn - d.Value).ToArray()).ToArray();
        double[] readings = [.. differences.Select(d => d.Value)];
        var left = Most(readings, noise);
        double[] right = [.. Most([.. readings.Select(r => -r)], [.. noise.Select(n => n.Select(e => -e).ToArray())]).Select(r => -r)];
        var largest = left.Select((l, i) => (Left: l, Right: right[i * Stride % Draws])).Select(d => d.Left + d.Right > 0 ? d.Left : d.Right);
        return new(
            With(map.Largest.Difference, largest, $"largest:outline/{file}"),
            With(map.LeftBeyond.Difference, left, $"largest:outline/{file}/left"),
            With(map.RightBeyond.Difference, right, $"largest:outline/{file}/right"));
    }

    /// <summary>Draws of the true largest, in ascending order.</summary>
    private static double[] Most(double[] readings, double[][] noise)
    {
        var largest = readings.Max();
        var at = Array.IndexOf(readings, largest);
        double[] most = [.. noise.Select(n => n.Max()).Order()];
        var reach = 2 * most[(int)(0.975 * most.Length)];
        double[] below = [.. readings.Select(r => Math.Min(0, r - largest + reach))];
        double[] least = [.. noise.Select(n => largest - n.Zip(below, (e, b) => e + b).Max()).Order()];
        double[] greatest = [.. noise.Select(n => largest - n[at]).Order()];
        return [.. least.Zip(greatest, (l, g) => (l, g)).Select((d, i) => i < noise.Length / 2 ? d.l : Math.Max(d.l, d.g))];
    }

    /// <summary>The reading with these draws. Its budget is that of the place it was read at, and what the many places add; where the draws spread less, it shrinks.</summary>
    private static Measured With(Measured read, IEnumerable<double> draws, string cause)
    {
        double[] all = [.. draws];
        var variance = Math.Pow(Summary.Of(all).StandardDeviation, 2);
        var own = read.Budget.Sum(c => c.Value * c.Value);
        return Measured.Of(read.Value, read.Unit, variance >= own
            ? read.Budget.Add(new Contribution(cause, Evaluation.TypeB, Math.Sqrt(variance - own)))
            : read.Budget.Select(c => c with { Value = c.Value * Math.Sqrt(variance / own) })).WithSamples(all);
    }
}
