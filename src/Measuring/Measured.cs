using System.Collections.Immutable;

namespace Pairbench.Measuring;

/// <summary>
/// A value with its unit (UCUM) and the budget of causes that its uncertainty comes from.
/// Combination follows JCGM 100:2008, 5.1 and 5.2: contributions of one cause add with their signs, those of different causes in square.
/// </summary>
/// <remarks>
/// An empty budget means that the value is exact (counted, tabulated, agreed).
/// A value whose state of knowledge is not a scaled t-distribution carries its <see cref="Samples"/>; intervals and
/// probabilities then come from these.
/// </remarks>
public sealed record Measured
{
    private Measured(double value, string unit, ImmutableArray<Contribution> budget, ImmutableArray<double> samples)
    {
        Value = value;
        Unit = unit;
        Budget = budget;
        Samples = samples;
        (StandardUncertainty, DegreesOfFreedom) = Combine(budget);
        if (!samples.IsEmpty)
        {
            StandardUncertainty = Summary.Of(samples.AsSpan()).StandardDeviation;
        }
    }

    public double Value { get; }

    /// <summary>UCUM code, such as <c>mm</c>, <c>mm2</c>, <c>%</c>, <c>Cel</c>; empty for a plain number.</summary>
    public string Unit { get; }

    /// <summary>One entry for each cause, in order of cause name; empty for an exact value.</summary>
    public ImmutableArray<Contribution> Budget { get; }

    /// <summary>Draws from the state of knowledge in ascending order; empty where the budget says everything.</summary>
    public ImmutableArray<double> Samples { get; }

    /// <summary>Combined standard uncertainty in the unit of the value, the standard deviation of the draws where there are any; zero for an exact value.</summary>
    public double StandardUncertainty { get; }

    /// <summary>Effective degrees of freedom by Welch-Satterthwaite (JCGM 100:2008, G.4.1), not truncated; infinite for an exact value.</summary>
    public double DegreesOfFreedom { get; }

    public bool IsExact => Budget.IsEmpty && Samples.IsEmpty;

    /// <summary>A value known exactly.</summary>
    public static Measured Exact(double value, string unit) => new(Finite(value), unit, [], []);

    /// <summary>A value with one cause of uncertainty.</summary>
    public static Measured Of(double value, string unit, string cause, double standardUncertainty, Evaluation evaluation = Evaluation.TypeB, double degreesOfFreedom = double.PositiveInfinity) =>
        Of(value, unit, [new Contribution(cause, evaluation, standardUncertainty, degreesOfFreedom)]);

    /// <summary>A value with a budget; contributions of one cause are added.</summary>
    /// <exception cref="ArgumentException">A value is not finite, or degrees of freedom are not above zero.</exception>
    public static Measured Of(double value, string unit, IEnumerable<Contribution> budget) => new(Finite(value), unit, Merge(budget), []);

    /// <summary>
    /// The same value with draws from its state of knowledge, as made by a Monte Carlo propagation (JCGM 101:2008).
    /// </summary>
    /// <param name="draws">At least 100 finite draws, in any order.</param>
    public Measured WithSamples(IEnumerable<double> draws)
    {
        var sorted = draws.Select(Finite).Order().ToImmutableArray();
        if (sorted.Length < 100)
        {
            throw new ArgumentException($"A sampled state of knowledge takes at least 100 draws; got {sorted.Length}.", nameof(draws));
        }

        return new(Value, Unit, Budget, sorted);
    }

    /// <summary>Half-width of the symmetric interval of the stated coverage: t-factor times the combined standard uncertainty.</summary>
    /// <param name="coverage">Probability between 0 and 1.</param>
    public double ExpandedUncertainty(double coverage = 0.95) => Samples.IsEmpty
        ? CoverageFactor(coverage) * StandardUncertainty
        : CoverageInterval(coverage).HalfWidth;

    /// <summary>Two-sided coverage factor; the degrees of freedom are truncated before the t-distribution is used (JCGM 100:2008, G.4.1).</summary>
    public double CoverageFactor(double coverage = 0.95)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(coverage, 0);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(coverage, 1);
        return Probability.TFactor(coverage, WholeDegreesOfFreedom);
    }

    /// <summary>The interval that holds the true value with the stated probability; need not be symmetric.</summary>
    public Interval CoverageInterval(double coverage = 0.95)
    {
        if (Samples.IsEmpty)
        {
            var u = ExpandedUncertainty(coverage);
            return new Interval(Value - u, Value + u);
        }

        return new Interval(SampleQuantile((1 - coverage) / 2), SampleQuantile((1 + coverage) / 2));
    }

    /// <summary>Probability that the true value is at most <paramref name="limit"/>.</summary>
    public double ProbabilityAtMost(double limit)
    {
        if (!Samples.IsEmpty)
        {
            var index = Samples.BinarySearch(limit);
            var below = index < 0 ? ~index : index;
            while (below < Samples.Length && Samples[below] <= limit)
            {
                below++;
            }

            return (double)below / Samples.Length;
        }

        if (StandardUncertainty == 0)
        {
            return Value <= limit ? 1 : 0;
        }

        var z = (limit - Value) / StandardUncertainty;
        return Probability.TAtMost(z, WholeDegreesOfFreedom);
    }

    public static Measured operator +(Measured left, Measured right) => Linear(SameUnit(left, right), (left, 1), (right, 1));

    public static Measured operator -(Measured left, Measured right) => Linear(SameUnit(left, right), (left, 1), (right, -1));

    public static Measured operator *(double factor, Measured value) => Linear(value.Unit, (value, factor));

    /// <summary>A weighted sum; weights carry whatever turns each unit into <paramref name="unit"/>.</summary>
    public static Measured Linear(string unit, params ReadOnlySpan<(Measured Value, double Weight)> terms)
    {
        double sum = 0;
        var budget = new List<Contribution>();
        foreach (var (value, weight) in terms)
        {
            sum += weight * value.Value;
            budget.AddRange(value.Budget.Select(c => c with { Value = weight * c.Value }));
        }

        return Of(sum, unit, budget);
    }

    /// <summary>A product, its budget to first order (JCGM 100:2008, 5.1.2): too narrow where both values are small against their uncertainties.</summary>
    /// <param name="unit">UCUM unit of the product of the two numbers; it is not checked against theirs.</param>
    public static Measured Product(Measured left, Measured right, string unit) =>
        Linear(unit, (left, right.Value), (right, left.Value)).At(left.Value * right.Value);

    /// <summary>A ratio, its budget to first order (JCGM 100:2008, 5.1.2): too narrow where the divisor is small against its uncertainty.</summary>
    /// <param name="unit">UCUM unit of the ratio of the two numbers; it is not checked against theirs.</param>
    /// <exception cref="DivideByZeroException">The divisor's value is zero.</exception>
    public static Measured Ratio(Measured dividend, Measured divisor, string unit)
    {
        if (divisor.Value == 0)
        {
            throw new DivideByZeroException("A ratio needs a divisor other than zero.");
        }

        var ratio = dividend.Value / divisor.Value;
        return Linear(unit, (dividend, 1 / divisor.Value), (divisor, -ratio / divisor.Value)).At(ratio);
    }

    /// <summary>The same budget about another value.</summary>
    internal Measured At(double value) => new(Finite(value), Unit, Budget, []);

    /// <summary>Truncated, but not one lower because 15 came out as 14.999999.</summary>
    private double WholeDegreesOfFreedom => Math.Max(1, Math.Floor(DegreesOfFreedom * (1 + 1e-9)));

    private double SampleQuantile(double probability)
    {
        var position = probability * (Samples.Length - 1);
        var index = (int)Math.Floor(position);
        var next = Math.Min(index + 1, Samples.Length - 1);
        return Samples[index] + ((position - index) * (Samples[next] - Samples[index]));
    }

    private static string SameUnit(Measured left, Measured right) => left.Unit == right.Unit
        ? left.Unit
        : throw new ArgumentException($"A sum needs one unit; got '{left.Unit}' and '{right.Unit}'.");

    private static double Finite(double value) => double.IsFinite(value)
        ? value
        : throw new ArgumentException($"A measured value is finite; got {value}.");

    private static ImmutableArray<Contribution> Merge(IEnumerable<Contribution> budget)
    {
        var merged = budget
            .GroupBy(c => c.Cause, StringComparer.Ordinal)
            .OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => new Contribution(
                g.Key,
                g.Any(c => c.Evaluation == Evaluation.TypeA) ? Evaluation.TypeA : Evaluation.TypeB,
                Finite(g.Sum(c => c.Value)),
                g.Min(c => c.DegreesOfFreedom)))
            .Where(c => c.Value != 0)
            .ToImmutableArray();
        return merged.All(c => c.DegreesOfFreedom > 0)
            ? merged
            : throw new ArgumentException("Degrees of freedom are above zero.");
    }

    private static (double U, double DegreesOfFreedom) Combine(ImmutableArray<Contribution> budget)
    {
        var variance = budget.Sum(c => c.Value * c.Value);
        var shares = budget.Where(c => double.IsFinite(c.DegreesOfFreedom))
            .GroupBy(c => c.Estimate, StringComparer.Ordinal)
            .Sum(g => Math.Pow(g.Sum(c => c.Value * c.Value / variance), 2) / g.Min(c => c.DegreesOfFreedom));
        return (Math.Sqrt(variance), variance > 0 && shares > 0 ? 1 / shares : double.PositiveInfinity);
    }
}
