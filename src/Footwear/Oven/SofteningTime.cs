using System.Collections.Immutable;
using System.Numerics;
using Pairbench.Footwear.Materials;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Oven;

/// <summary>Temperature of the hottest place of a layer, C, step by step; straight within a step.</summary>
internal sealed class HottestPlace
{
    private readonly List<double> _seconds = [];
    private readonly List<double> _before = [];
    private readonly List<double> _after = [];

    public int Steps => _seconds.Count;

    public void Add(double seconds, double before, double after)
    {
        _seconds.Add(seconds);
        _before.Add(before);
        _after.Add(after);
    }

    /// <summary>Lengths of the steps, s.</summary>
    public double[] Seconds => [.. _seconds];

    /// <summary>Temperatures before every step, then those after every step.</summary>
    public double[] Ends => [.. _before, .. _after];
}

/// <summary>How long the hottest place of a layer lies above the softening of its material.</summary>
/// <remarks>
/// Below the softening the time is zero whatever a cause does, so half the difference of two runs would say that nothing is uncertain. The time is drawn
/// (JCGM 101:2008): temperatures move in a straight line with each cause, the softening lies anywhere in its range.
/// </remarks>
internal static class SofteningTime
{
    private const int Draws = 10_000;

    /// <summary>Draws that spread no more than this are one value with the rounding of the arithmetic. min</summary>
    private const double Rounding = 1e-9;

    /// <param name="at">At the values.</param>
    /// <param name="causes">Each cause with what one standard uncertainty of it moves <see cref="HottestPlace.Ends"/> by, K; those that move nothing may be among them.</param>
    /// <param name="name">Names the cause that carries what a straight line leaves out.</param>
    /// <returns>min</returns>
    public static Measured Of(HottestPlace at, MaterialValue softening, IEnumerable<(Contribution Cause, double[] Shift)> causes, string name)
    {
        var (seconds, ends) = (at.Seconds, at.Ends);
        var moving = causes.Where(c => Array.Exists(c.Shift, s => s != 0)).ToImmutableArray();
        var moved = new double[ends.Length];
        double Minutes(ReadOnlySpan<double> inputs)
        {
            ends.CopyTo(moved, 0);
            for (var c = 0; c < moving.Length; c++)
            {
                Add(inputs[c], moving[c].Shift, moved);
            }

            var above = 0.0;
            for (var s = 0; s < seconds.Length; s++)
            {
                above += seconds[s] * ShareAbove(moved[s], moved[seconds.Length + s], inputs[^1]);
            }

            return above / 60;
        }

        var drawn = new MonteCarlo(1) { Digits = 1, AtLeast = Draws, AtMost = Draws }.Of(
            "min",
            $"bend:{name}",
            Minutes,
            [.. moving.Select(c => Measured.Of(0, "", [c.Cause with { Value = 1 }])), softening.Drawn()]);
        var value = drawn.Linear.Value;
        return drawn.StandardUncertainty > Rounding * Math.Max(1, value) ? drawn.At(value) : Measured.Exact(value, "min");
    }

    private static void Add(double by, double[] shift, double[] to)
    {
        var i = 0;
        for (; i <= to.Length - Vector<double>.Count; i += Vector<double>.Count)
        {
            (new Vector<double>(to, i) + (by * new Vector<double>(shift, i))).CopyTo(to, i);
        }

        for (; i < to.Length; i++)
        {
            to[i] += by * shift[i];
        }
    }

    private static double ShareAbove(double before, double after, double limit)
    {
        if (before > limit == after > limit)
        {
            return before > limit ? 1 : 0;
        }

        var crossing = (limit - before) / (after - before);
        return before > limit ? crossing : 1 - crossing;
    }
}
