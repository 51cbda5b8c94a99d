using Pairbench.Footwear.Duty;

namespace Pairbench.Reference.Footwear.Duty;

/// <summary>Factor k of the one-sided tolerance limit that the sampling of the lead rests on.</summary>
public sealed class ToleranceFactorTests
{
    /// <remarks>SciPy 1.10.1, <c>scipy.stats.nct.ppf(confidence, n - 1, norm.ppf(share) * sqrt(n)) / sqrt(n)</c>; the values of 95 % and 95 % are those of the printed tables of ISO 16269-6, annex D (from memory).</remarks>
    [Theory]
    [InlineData(3, 0.95, 0.95, 7.6559)]
    [InlineData(5, 0.95, 0.95, 4.2027)]
    [InlineData(10, 0.95, 0.95, 2.9110)]
    [InlineData(20, 0.95, 0.95, 2.3960)]
    [InlineData(30, 0.95, 0.95, 2.2198)]
    [InlineData(50, 0.95, 0.95, 2.0650)]
    [InlineData(10, 0.99, 0.95, 3.9811)]
    [InlineData(10, 0.9, 0.9, 2.0657)]
    [InlineData(100, 0.95, 0.99, 2.0563)]
    public void Factor_k_is_that_of_the_noncentral_t(int pairs, double share, double confidence, double k) =>
        Assert.Equal(k, ToleranceFactor.OneSided(pairs, share, confidence), 0.0006);
}
