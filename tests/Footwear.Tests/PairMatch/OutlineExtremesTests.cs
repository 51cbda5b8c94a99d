using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.PairMatch;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.PairMatch;

public sealed class OutlineExtremesTests
{
    private const int Places = 40;

    /// <summary>Standard uncertainty of a place by itself, mm; neighbours share it, so that some 14 places are apart.</summary>
    private const double Own = 0.1;

    /// <summary>Maps of outlines whose true differences are known, seen with noise of their own and of the whole shoe: how often the intervals of the largest hold the true ones. They may hold more than they need.</summary>
    /// <param name="shape">0: one difference all along; 1: a bump beside two equal shoes; 2: swings of other size and place each time.</param>
    [Theory]
    [InlineData(0, 0)]
    [InlineData(0, 0.3)]
    [InlineData(1, 0.4)]
    [InlineData(1, 1.5)]
    [InlineData(2, 0.5)]
    public void Intervals_of_the_largest_hold_the_true_ones(int shape, double size)
    {
        const int maps = 40;
        var random = new Random(5);
        var (held, heldLeft, heldRight) = (0, 0, 0);
        for (var k = 0; k < maps; k++)
        {
            var truth = Truth(shape, size, random);
            var extremes = OutlineExtremes.Of(Seen(truth, random, 0.05), "left.jpg");
            var (left, right) = (truth.Max(), truth.Min());
            held += extremes.Largest.CoverageInterval().Contains(left + right > 0 ? left : right) ? 1 : 0;
            heldLeft += extremes.LeftBeyond.CoverageInterval().Contains(left) ? 1 : 0;
            heldRight += extremes.RightBeyond.CoverageInterval().Contains(right) ? 1 : 0;
        }

        Assert.All([held, heldLeft, heldRight], h => Assert.InRange(h / (double)maps, 0.91, 1));
    }

    [Fact]
    public void Equal_shoes_are_not_told_apart_and_a_bump_is()
    {
        var random = new Random(9);
        var (limit, told) = (new Limit(-0.1, 0.1, Severity.Major, "made up for a test"), 0);
        for (var k = 0; k < 30; k++)
        {
            told += OutlineExtremes.Of(Seen(new double[Places], random, 0), "left.jpg").Largest.CoverageInterval().Contains(0) ? 0 : 1;
        }

        Assert.InRange(told / 30.0, 0, 0.09);
        var bump = OutlineExtremes.Of(Seen(Truth(1, -1.5, random), random, 0), "left.jpg");
        Assert.InRange(bump.Largest.Value, -1.9, -1.1);
        Assert.True(bump.Largest.CoverageInterval() is { Upper: < -1, Lower: > -2 });
        Assert.Equal(Ruling.Outside, limit.Rule(bump.Largest));
    }

    [Fact]
    public void Budget_and_draws_say_the_same()
    {
        var extremes = OutlineExtremes.Of(Seen(Truth(1, 0.4, new Random(3)), new Random(3), 0.05), "left.jpg");
        Assert.All([extremes.Largest, extremes.LeftBeyond, extremes.RightBeyond], m => Assert.Equal(m.StandardUncertainty, Math.Sqrt(m.Budget.Sum(c => c.Value * c.Value)), 1e-6));
        Assert.Contains(extremes.LeftBeyond.Budget, c => c.Cause == "whole-shoe:2");
    }

    private static double[] Truth(int shape, double size, Random random)
    {
        var (phase, waves) = (2 * Math.PI * random.NextDouble(), random.Next(1, 5));
        return [.. Enumerable.Range(0, Places).Select(i => shape switch
        {
            0 => size,
            1 => size * Math.Exp(-0.5 * Math.Pow((i - 20) / 3.0, 2)),
            _ => size * Math.Cos((2 * Math.PI * waves * i / Places) + phase),
        })];
    }

    /// <param name="whole">Standard uncertainty of what moves all places together, mm.</param>
    private static OutlineMap Seen(double[] truth, Random random, double whole)
    {
        double[] own = [.. Enumerable.Range(0, Places).Select(_ => Normal(random))], shared = [.. Enumerable.Range(0, 3).Select(_ => Normal(random))];
        return new([.. truth.Select((t, i) =>
        {
            ImmutableArray<(string Cause, double Value, double Drawn)> causes =
            [
                .. Enumerable.Range(-2, 5).Select(d => (At: (i + d + Places) % Places, Weight: Math.Exp(-0.5 * d * d))).Select(n => (string.Create(CultureInfo.InvariantCulture, $"place:{n.At}"), Own * n.Weight / Math.Sqrt(1.772), own[n.At])),
                .. Enumerable.Range(0, 3).Select(w => (string.Create(CultureInfo.InvariantCulture, $"whole-shoe:{w}"), whole * (w == 2 ? 1 : w == 1 ? Math.Cos(2 * Math.PI * i / Places) : Math.Sin(2 * Math.PI * i / Places)), shared[w])),
            ];
            var seen = t + causes.Sum(c => c.Value * c.Drawn);
            return new OutlinePlace(new PlanePoint(i, 0), new PlanePoint(0, -1), Measured.Of(seen, "mm", causes.Select(c => new Contribution(c.Cause, Evaluation.TypeB, c.Value))));
        })]);
    }

    private static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
