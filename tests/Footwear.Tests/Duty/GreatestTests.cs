using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using Pairbench.Footwear.Duty;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Duty;

public sealed class GreatestTests
{
    /// <summary>One cause with five degrees of freedom puts the lead one standard uncertainty above zero: t says 18.2 % for the other, a normal curve would say 15.9 %.</summary>
    [Theory]
    [InlineData(2)]
    [InlineData(3)]
    public void Few_degrees_of_freedom_leave_more_doubt_however_many_shares_there_are(int count)
    {
        var shares = ImmutableDictionary<string, Extent>.Empty
            .Add("textile", Extent.Of(Measured.Of(48, "%", "label:photo", 3, degreesOfFreedom: 5)))
            .Add("rubber-plastics", Extent.Of(Measured.Exact(45, "%")));
        shares = count == 3 ? shares.Add("leather", Extent.Of(Measured.Of(1, "%", "label:photo", 0.1, degreesOfFreedom: 5))) : shares;
        var chances = Greatest.Chances(shares)!;
        Assert.Equal(StudentT.CDF(0, 1, 5, -1), chances["rubber-plastics"], 0.008);
        Assert.Equal(1, chances.Values.Sum(), 9);
    }

    /// <summary>Three alike with causes of their own lead in a third of the draws each.</summary>
    [Fact]
    public void Three_that_are_alike_lead_alike()
    {
        var chances = Greatest.Chances(new[] { "leather", "rubber-plastics", "textile" }.ToImmutableDictionary(m => m, m => Extent.Of(Measured.Of(33, "%", $"label:{m}", 2, degreesOfFreedom: 5))))!;
        Assert.All(chances.Values, c => Assert.Equal(1.0 / 3, c, 0.012));
    }
}
