using System.Collections.Immutable;
using MathNet.Numerics;

namespace Pairbench.Footwear.Hardness;

/// <summary>What a very thick piece of the one unknown stuff of a stack would read, and what that hangs on.</summary>
/// <param name="Thick">In points.</param>
/// <param name="PerPoint">Of the reading on the stack: how much of the stuff's own is in it; large where little is.</param>
/// <param name="PerGiven">For each unit of each given quantity.</param>
internal sealed record Unstacked(double Thick, double PerPoint, ImmutableArray<double> PerGiven)
{
    private const double Softest = 0.5;
    private const double Hardest = 99;

    /// <summary>Null where no stuff of the scale reads so in such a stack, or where the reading does not hang on it.</summary>
    /// <param name="givens">Each above 0.</param>
    public static Unstacked? Of(ProbeModel model, double reading, double[] givens, LayerBase joint, StackOf build)
    {
        double? Read(double thick, double[] with) => model.On(build(model.Stuff(thick), with, joint));
        if (Thickly(t => Read(t, givens) - reading, reading) is not { } thick)
        {
            return null;
        }

        const double Step = 0.2;
        var (softer, harder) = (Math.Max(Softest, thick - Step), Math.Min(Hardest, thick + Step));
        if (Read(thick, givens) is not { } at || Read(harder, givens) is not { } up || Read(softer, givens) is not { } down || up <= down)
        {
            return null;
        }

        // A step down leaves no scale; a step up is for a sheet that is hardly thick enough to be followed.
        double? Slope(int given, double share)
        {
            var step = share * givens[given];
            double[] moved = [.. givens];
            moved[given] += step;
            return (Read(thick, moved) - at) / step;
        }

        var perPoint = (harder - softer) / (up - down);
        ImmutableArray<double> perGiven = [.. givens.Select((_, i) => Slope(i, -0.01) ?? Slope(i, 0.01)).OfType<double>().Select(s => -perPoint * s)];
        return perGiven.Length < givens.Length ? null : new(thick - ((at - reading) * perPoint), perPoint, perGiven);
    }

    /// <summary>Where the reading comes out: by secants from the reading itself, which lies near, else between softest and hardest.</summary>
    private static double? Thickly(Func<double, double?> off, double reading)
    {
        var (before, at) = (reading, Math.Clamp(reading, Softest, Hardest));
        double? offBefore = null;
        for (var i = 0; i < 8 && off(at) is { } now; i++)
        {
            if (Math.Abs(now) < 1e-3)
            {
                return at;
            }

            var step = offBefore is { } last && last != now ? -now * (at - before) / (now - last) : -now;
            (before, offBefore, at) = (at, now, Math.Clamp(at + step, Softest, Hardest));
            if (at == before)
            {
                break;
            }
        }

        return off(Softest) < 0 && off(Hardest) > 0 ? FindRoots.OfFunction(t => off(t)!.Value, Softest, Hardest, 1e-3) : null;
    }
}
