using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using Pairbench.Footwear.Change;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Change;

/// <summary>How often change and sameness are claimed, rightly and wrongly, over ten thousand simulated pairs of reviews (fixed seeds).</summary>
public class DifferenceTests
{
    private const int Pairs = 10_000;

    [Fact]
    public void WithNoTrueDifferenceAChangeIsClaimedInAtMostFiveOfAHundred() =>
        Assert.InRange(Share(1, _ => 0, _ => 1, ChangeWord.Changed, ChangeWord.ChangedWithinTolerance), 0.03, 0.05);

    [Fact]
    public void ADifferenceOfFourStandardUncertaintiesIsClaimedInAtLeastNinetyFiveOfAHundred() =>
        Assert.InRange(Share(2, u => 4 * u, _ => 1, ChangeWord.Changed, ChangeWord.ChangedWithinTolerance), 0.95, 1);

    [Fact]
    public void ADifferenceAtTheToleranceIsCalledTheSameInAtMostFiveOfAHundred() =>
        Assert.InRange(Share(3, u => 6 * u, u => 6 * u, ChangeWord.Same, ChangeWord.ChangedWithinTolerance), 0.01, 0.05);

    [Fact]
    public void TrueSamenessWithUOfAThirdOfTheToleranceIsSeenInAtLeastNinetyOfAHundred() =>
        Assert.InRange(Share(4, _ => 0, u => 3 * 1.96 * u, ChangeWord.Same, ChangeWord.ChangedWithinTolerance), 0.9, 1);

    [Fact]
    public void FewReadingsClaimAChangeWronglyInAtMostFiveOfAHundred()
    {
        var random = new Random(5);
        var claimed = 0;
        for (var i = 0; i < Pairs; i++)
        {
            var before = Summary.Of([.. Draws(random, 5)]);
            var after = Summary.Of([.. Draws(random, 5)]);
            claimed += Difference.Between(Figure(Of(before, "a")), Figure(Of(after, "b")), null)!.Word == ChangeWord.Changed ? 1 : 0;
        }

        Assert.InRange(claimed / (double)Pairs, 0.02, 0.05);

        static IEnumerable<double> Draws(Random random, int count) => Enumerable.Range(0, count).Select(_ => Normal.Sample(random, 60, 1.5));
        static Measured Of(Summary s, string review) => Measured.Of(s.Mean, "ShoreA", $"readings:{review}", s.StandardDeviation / Math.Sqrt(s.Count), Evaluation.TypeA, s.Count - 1);
    }

    [Fact]
    public void WhatOneDurometerIsOffByDoesNotHideAChange()
    {
        Contribution durometer = new("durometer:d-1", Evaluation.TypeB, 2);
        var before = Measured.Of(60, "ShoreA", [durometer, new("readings:a", Evaluation.TypeA, 0.3)]);
        var after = Measured.Of(62, "ShoreA", [durometer, new("readings:b", Evaluation.TypeA, 0.4)]);

        var difference = Difference.Between(Figure(before), Figure(after), null)!;

        Assert.Equal(0.5, difference.Of.StandardUncertainty, 12);
        Assert.Equal(ChangeWord.Changed, difference.Word);
    }

    [Fact]
    public void CountsAreComparedExactly()
    {
        Assert.Equal(ChangeWord.Same, Difference.Between(Figure(Measured.Exact(7, "")), Figure(Measured.Exact(7, "")), null)!.Word);
        Assert.Equal(ChangeWord.Changed, Difference.Between(Figure(Measured.Exact(7, "")), Figure(Measured.Exact(8, "")), null)!.Word);
    }

    [Fact]
    public void ScalesAreNeverMixedButUnitsOfOneKindAre()
    {
        Assert.Null(Difference.Between(Figure(Measured.Exact(60, "ShoreA")), Figure(Measured.Exact(60, "AstmC")), null));
        Assert.Equal(20, Difference.Between(Figure(Measured.Exact(10, "mm")), Figure(Measured.Exact(3, "cm")), null)!.Of.Value, 9);
    }

    [Fact]
    public void TheLimitOfTheLaterFigureComesAlongIntoTheUnitOfTheEarlierOne()
    {
        var later = Figure(Measured.Exact(3, "cm")) with { Limit = new Limit(2.5, 3.5, Severity.Major, "style") };

        var after = Difference.Between(Figure(Measured.Exact(28, "mm")), later, null)!.After;

        Assert.Equal((25.0, 35.0), (after.Limit!.Min, after.Limit.Max));
        Assert.Equal(Ruling.Within, after.Limit.Rule(after.Measured));
    }

    /// <summary>Share of pairs with one of the words. Half of the variance of each value is a cause that both share, so that it cancels.</summary>
    private static double Share(int seed, Func<double, double> truth, Func<double, double> tolerance, params ImmutableArray<ChangeWord> words)
    {
        var random = new Random(seed);
        var claimed = 0;
        for (var i = 0; i < Pairs; i++)
        {
            var (ua, ub, common) = (0.2 + random.NextDouble(), 0.2 + random.NextDouble(), random.NextDouble());
            var u = Math.Sqrt((ua * ua) + (ub * ub));
            var off = common * Normal.Sample(random, 0, 1);
            var before = 50 + off + Normal.Sample(random, 0, ua);
            var after = 50 + truth(u) + off + Normal.Sample(random, 0, ub);
            var word = Difference.Between(Figure(Value(before, ua, common, "a")), Figure(Value(after, ub, common, "b")), tolerance(u))!.Word;
            claimed += words.Contains(word) ? 1 : 0;
        }

        return claimed / (double)Pairs;

        static Measured Value(double value, double own, double common, string review) =>
            Measured.Of(value, "mm", [new($"own:{review}", Evaluation.TypeB, own), new("sheet:s-1", Evaluation.TypeB, common)]);
    }

    private static PastFigure Figure(Measured measured) => new(FullAddress.Read("readings/main/x")!, "X", measured, null);
}
