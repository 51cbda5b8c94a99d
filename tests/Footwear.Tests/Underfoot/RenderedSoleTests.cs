using System.Collections.Concurrent;
using System.Globalization;

namespace Pairbench.Footwear.Tests.Underfoot;

/// <summary>The rendered soles, none of which taught the networks or their doubts (others of the same renderer did): the interval has to hold the truth even where the division is poor.</summary>
public sealed class RenderedSoleTests
{
    [Theory]
    [InlineData(true, 5)]
    [InlineData(false, 3.5)]
    public void The_stated_interval_holds_the_true_share_of_rendered_soles(bool dabsAlone, double mostMedianError)
    {
        var results = new ConcurrentBag<(double Error, double Interval, bool Held)>();
        Parallel.ForEach(RenderedSole.All(), sole =>
        {
            var share = sole.Examine(sole.Evidence(0, dabsAlone)).Figures.Single(f => f.Id == "share.textile").Measured;
            results.Add((Math.Abs(share.Value - sole.TextileShare), share.ExpandedUncertainty(), share.CoverageInterval().Contains(sole.TextileShare)));
        });

        var errors = results.Select(r => r.Error).Order().ToArray();
        var words = string.Create(CultureInfo.InvariantCulture, $"{errors.Length} soles, median error {errors[errors.Length / 2]:F1} points, worst {errors[^1]:F1}, largest interval {results.Max(r => r.Interval):F1}, truth held on {results.Count(r => r.Held)}");
        Assert.True(errors.Length >= 10, words);
        Assert.True(results.Count(r => r.Held) >= errors.Length - 1, words);
        Assert.True(errors[errors.Length / 2] < mostMedianError, words);
        Assert.True(results.Max(r => r.Interval) < 50, words);
    }
}
