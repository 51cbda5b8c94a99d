using MathNet.Numerics.Distributions;

namespace Pairbench.Measuring;

/// <summary>
/// Guarded acceptance (JCGM 106:2012, 8; ISO 14253-1:2017): a value is accepted when it lies inside the limit shrunk by a guard band.
/// </summary>
/// <param name="Limit">What the true value should lie in.</param>
/// <param name="GuardBand">w in the unit of the limit; above zero it shrinks the range of acceptance and protects who receives, below zero it widens it.</param>
public sealed record Acceptance(Limit Limit, double GuardBand)
{
    /// <summary>Lower end of the range of acceptance; minus infinity where the limit has none.</summary>
    public double Lower => Limit.Min + GuardBand ?? double.NegativeInfinity;

    /// <summary>Upper end of the range of acceptance; infinity where the limit has none.</summary>
    public double Upper => Limit.Max - GuardBand ?? double.PositiveInfinity;

    /// <summary>No guard band (w = 0): the risk at the limit is one half.</summary>
    public static Acceptance Simple(Limit limit) => new(limit, 0);

    /// <summary>The band that holds the risk at one limit to one less the limit's probability: 1.645 u for 95 % and a normal state of knowledge.</summary>
    /// <param name="degreesOfFreedom">Of u; finite ones give a wider band by Student's t.</param>
    public static Acceptance Guarded(Limit limit, double standardUncertainty, double degreesOfFreedom = double.PositiveInfinity)
    {
        ArgumentNullException.ThrowIfNull(limit);
        return new(limit, standardUncertainty * Probability.TFactor((2 * limit.Probability) - 1, degreesOfFreedom));
    }

    /// <summary>The band of a multiple of U = 2 u; 1 is the rule of ISO 14253-1:1998 and 2013.</summary>
    public static Acceptance OfExpanded(Limit limit, double standardUncertainty, double multiple = 1) => new(limit, multiple * 2 * standardUncertainty);

    public bool Accepts(double value) => value >= Lower && value <= Upper;

    /// <summary>Probability that this one value lies outside the limit although accepted, or inside it although refused (JCGM 106:2012, 9.3).</summary>
    public double SpecificRisk(Measured measured)
    {
        ArgumentNullException.ThrowIfNull(measured);
        var conformance = Limit.Conformance(measured);
        return Accepts(measured.Value) ? 1 - conformance : conformance;
    }

    /// <summary>Shares of a whole production wrongly accepted and wrongly refused (JCGM 106:2012, 9.5).</summary>
    /// <param name="mean">Of the production, taken as normal.</param>
    /// <param name="deviation">Standard deviation of the true values of the production; above zero.</param>
    /// <param name="standardUncertainty">Of one measurement, taken as normal; above zero.</param>
    public GlobalRisk Global(double mean, double deviation, double standardUncertainty)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(deviation);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(standardUncertainty);
        double Accepted(double truth) => Normal.CDF(truth, standardUncertainty, Upper) - Normal.CDF(truth, standardUncertainty, Lower);
        double Density(double truth) => Normal.PDF(mean, deviation, truth);
        var low = Limit.Min ?? double.NegativeInfinity;
        var high = Limit.Max ?? double.PositiveInfinity;
        var reach = 10 * deviation;
        double Over(double from, double to, Func<double, double> f)
        {
            var (a, b) = (Math.Max(from, mean - reach), Math.Min(to, mean + reach));
            if (a >= b)
            {
                return 0;
            }

            // Pieces short against both widths, so that the fixed rule has smooth ground.
            var pieces = (int)Math.Clamp(Math.Ceiling((b - a) / Math.Min(deviation, standardUncertainty)), 1, 5000);
            var width = (b - a) / pieces;
            return Enumerable.Range(0, pieces).Sum(i => MathNet.Numerics.Integration.GaussLegendreRule.Integrate(f, a + (i * width), a + ((i + 1) * width), 12));
        }

        var consumer = Over(double.NegativeInfinity, low, t => Accepted(t) * Density(t)) + Over(high, double.PositiveInfinity, t => Accepted(t) * Density(t));
        var producer = Over(low, high, t => (1 - Accepted(t)) * Density(t));
        return new(consumer, producer, Normal.CDF(mean, deviation, high) - Normal.CDF(mean, deviation, low));
    }
}

/// <summary>Shares of a whole production.</summary>
/// <param name="Consumer">Outside the limit and accepted.</param>
/// <param name="Producer">Inside the limit and refused.</param>
/// <param name="Conforming">Inside the limit.</param>
public readonly record struct GlobalRisk(double Consumer, double Producer, double Conforming);
