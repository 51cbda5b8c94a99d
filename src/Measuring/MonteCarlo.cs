using System.Collections.Immutable;
using MathNet.Numerics.Distributions;

namespace Pairbench.Measuring;

/// <summary>The shape of a cause's state of knowledge, scaled to a standard deviation of one.</summary>
public abstract record Distribution
{
    private Distribution()
    {
    }

    /// <summary>One draw.</summary>
    /// <param name="normal">A standard normal number.</param>
    /// <param name="random">For shapes that need more than one number.</param>
    internal abstract double Draw(double normal, System.Random random);

    public sealed record Gaussian : Distribution
    {
        internal override double Draw(double normal, System.Random random) => normal;
    }

    public sealed record Uniform : Distribution
    {
        internal override double Draw(double normal, System.Random random) => Math.Sqrt(3) * Signed(normal);
    }

    public sealed record Triangular : Distribution
    {
        internal override double Draw(double normal, System.Random random)
        {
            var p = Signed(normal);
            return Math.Sqrt(6) * Math.Sign(p) * (1 - Math.Sqrt(1 - Math.Abs(p)));
        }
    }

    /// <summary>U-shaped: the values of a sine swing.</summary>
    public sealed record Arcsine : Distribution
    {
        internal override double Draw(double normal, System.Random random) => Math.Sqrt(2) * Math.Sin(Math.PI / 2 * Signed(normal));
    }

    /// <param name="Beta">Width of the top over width of the base, 0 to 1.</param>
    public sealed record Trapezoid(double Beta) : Distribution
    {
        internal override double Draw(double normal, System.Random random)
        {
            // With half-base one, the area from the middle to x is x / (1 + beta) on the flat and curves to one half at the end.
            var p = Signed(normal);
            var area = Math.Abs(p) * (1 + Beta) / 2;
            var x = area <= Beta ? area : 1 - Math.Sqrt(Math.Max(0, (1 - Math.Abs(p)) * (1 - (Beta * Beta))));
            return Math.Sign(p) * x / TypeB.Trapezoid(1, Beta);
        }
    }

    /// <summary>A rectangle with inexact ends (JCGM 101:2008, 6.4.3).</summary>
    /// <param name="EndShare">How far an end may be off, over the half-width of the rectangle; 0 to 1.</param>
    public sealed record CurvilinearTrapezoid(double EndShare) : Distribution
    {
        internal override double Draw(double normal, System.Random random)
        {
            var half = 1 + (EndShare * ((2 * random.NextDouble()) - 1));
            return half * Signed(normal) / TypeB.CurvilinearTrapezoid(1, EndShare);
        }
    }

    /// <summary>A standard normal number turned into one that is uniform between -1 and 1.</summary>
    private static double Signed(double normal) => (2 * Normal.CDF(0, 1, normal)) - 1;
}

/// <summary>
/// Propagation of whole distributions by seeded draws (JCGM 101:2008): for models that bend within the uncertainty, and figures that
/// cannot be negative and lie near zero. One draw of a cause serves every input that it is behind, so correlation is kept.
/// </summary>
/// <remarks>
/// A cause with finite degrees of freedom is drawn from a scaled t-distribution (6.4.9), parts of one joint estimate from a multivariate one, any other from a normal
/// one, unless <see cref="Shapes"/> says otherwise. An input that carries draws keeps their distribution; its causes give its correlation with others.
/// </remarks>
/// <param name="Seed">The same seed gives the same draws on every machine.</param>
public sealed record MonteCarlo(int Seed)
{
    internal const int Block = 10_000;

    /// <summary>Coverage that the adaptive rule makes sure of.</summary>
    public double Coverage { get; init; } = 0.95;

    /// <summary>Significant digits of the standard uncertainty that must be settled: 1 or 2 (JCGM 101:2008, 7.9.2).</summary>
    public int Digits { get; init; } = 2;

    /// <summary>At least so many draws; rounded up to whole blocks of 10 000.</summary>
    public int AtLeast { get; init; } = 20_000;

    /// <summary>Draws end here even if nothing has settled.</summary>
    public int AtMost { get; init; } = 400_000;

    /// <summary>Shapes by name of cause, where they are neither normal nor t.</summary>
    public ImmutableDictionary<string, Distribution> Shapes { get; init; } = ImmutableDictionary<string, Distribution>.Empty;

    /// <param name="unit">UCUM unit of the result.</param>
    /// <param name="cause">Name of the cause that carries in a budget what the straight-line budget leaves out, such as <c>bend:delta-e-left</c>.</param>
    /// <param name="model">Called once for each draw, and for the sensitivities.</param>
    /// <exception cref="ArgumentException">The model gives no finite number for a draw, or a setting is out of its range.</exception>
    public Simulated Of(string unit, string cause, Model model, params ReadOnlySpan<Measured> inputs)
    {
        ArgumentNullException.ThrowIfNull(model);
        CheckSettings();
        var source = new DrawSource(this, inputs);
        return Gather(
            _ =>
            {
                var block = new double[Block];
                for (var i = 0; i < block.Length; i++)
                {
                    block[i] = Propagation.Evaluate(model, source.Next());
                }

                return block;
            },
            Propagation.Of(unit, model, inputs),
            cause);
    }

    /// <summary>Joint draws of the inputs, one set after another, for what no single model says, such as one figure where another is known.</summary>
    /// <returns>Each set is a new array, in the order of <paramref name="inputs"/>.</returns>
    public IEnumerable<double[]> Sets(int count, ImmutableArray<Measured> inputs)
    {
        var source = new DrawSource(this, inputs.AsSpan());
        for (var i = 0; i < count; i++)
        {
            yield return [.. source.Next()];
        }
    }

    /// <exception cref="ArgumentException">A setting is out of its range.</exception>
    internal void CheckSettings()
    {
        if (!(Coverage is > 0 and < 1) || Digits is not (1 or 2) || AtMost < Block || AtLeast > AtMost)
        {
            throw new ArgumentException($"Coverage lies between 0 and 1, digits are 1 or 2, at most {Block} draws or more, at least no more than at most; got {this}.");
        }
    }

    /// <summary>Takes block after block until what is wanted has settled, or draws end.</summary>
    /// <param name="block">Draws of the result by number of the block, to be kept by the one who asks.</param>
    /// <param name="linear">The straight-line result.</param>
    internal Simulated Gather(Func<int, double[]> block, Measured linear, string cause)
    {
        var draws = new List<double>(AtLeast);
        var blocks = new List<Moments>();
        var settled = false;
        while (draws.Count < AtMost && !(settled && draws.Count >= AtLeast))
        {
            var next = block(blocks.Count);
            draws.AddRange(next);
            Array.Sort(next);
            blocks.Add(Moments.Of(next, Coverage));
            settled = IsSettled(blocks);
        }

        return new Simulated([.. draws.Order()], settled, linear, cause);
    }

    /// <summary>JCGM 101:2008, 7.9.4: twice the standard deviation of the block averages lies below half a unit of the last digit wanted of u.</summary>
    private bool IsSettled(List<Moments> blocks)
    {
        if (blocks.Count < 2)
        {
            return false;
        }

        var between = Summary.Of(blocks.Select(b => b.Mean).ToArray()).StandardDeviation;
        var u = Math.Sqrt(blocks.Average(b => b.Deviation * b.Deviation) + (between * between * (blocks.Count - 1) / blocks.Count));
        if (u == 0)
        {
            return true;
        }

        var tolerance = NumericalTolerance(u, Digits);
        return new Func<Moments, double>[] { b => b.Mean, b => b.Deviation, b => b.Low, b => b.High }
            .All(part => 2 * Summary.Of(blocks.Select(part).ToArray()).StandardUncertainty <= tolerance);
    }

    /// <summary>Half a unit in the last of the stated significant digits of u (JCGM 101:2008, 7.9.2).</summary>
    public static double NumericalTolerance(double standardUncertainty, int digits) =>
        0.5 * Math.Pow(10, Math.Floor(Math.Log10(standardUncertainty)) + 1 - digits);

    private readonly record struct Moments(double Mean, double Deviation, double Low, double High)
    {
        public static Moments Of(double[] sorted, double coverage)
        {
            var summary = Summary.Of(sorted);
            var interval = Simulated.Symmetric(sorted, coverage);
            return new(summary.Mean, summary.StandardDeviation, interval.Lower, interval.Upper);
        }
    }
}

/// <summary>What draws say of a result (JCGM 101:2008, 7.6 and 7.7).</summary>
public sealed class Simulated
{
    /// <summary>Order statistics that a <see cref="Pairbench.Measuring.Measured"/> keeps: enough for its tails, small enough to carry about.</summary>
    private const int Kept = 10_000;

    private readonly Measured _linear;
    private readonly string _cause;

    internal Simulated(double[] draws, bool settled, Measured linear, string cause)
    {
        Draws = [.. draws];
        IsSettled = settled;
        _linear = linear;
        _cause = cause;
        var summary = Summary.Of(draws);
        (Mean, StandardUncertainty) = (summary.Mean, summary.StandardDeviation);
    }

    /// <summary>All draws in ascending order.</summary>
    public ImmutableArray<double> Draws { get; }

    /// <summary>Whether the adaptive rule was met before draws ended.</summary>
    public bool IsSettled { get; }

    /// <summary>Mean of the draws: the estimate in the sense of JCGM 101.</summary>
    public double Mean { get; }

    /// <summary>Standard deviation of the draws.</summary>
    public double StandardUncertainty { get; }

    /// <summary>The straight-line result: the model at the inputs, with the first-order budget.</summary>
    public Measured Linear => _linear;

    /// <summary>The mean with its draws; see <see cref="At"/>.</summary>
    public Measured Measured => At(Mean);

    /// <summary>
    /// A value with evenly spaced quantiles of the draws. Its budget is the first-order one plus a cause of its own for what the straight line leaves out;
    /// where the straight line says more than the draws, it is scaled down. Either way its root of squares is the standard deviation of the draws.
    /// </summary>
    public Measured At(double value)
    {
        var variance = StandardUncertainty * StandardUncertainty;
        var linear = _linear.Budget.Sum(c => c.Value * c.Value);
        var budget = variance >= linear
            ? _linear.Budget.Add(new Contribution(_cause, Evaluation.TypeB, Math.Sqrt(variance - linear)))
            : [.. _linear.Budget.Select(c => c with { Value = c.Value * StandardUncertainty / Math.Sqrt(linear) })];
        var count = Math.Min(Kept, Draws.Length);
        return Measuring.Measured.Of(value, _linear.Unit, budget)
            .WithSamples(Enumerable.Range(0, count).Select(i => Quantile(Draws.AsSpan(), (i + 0.5) / count)));
    }

    /// <summary>Equal probability below and above.</summary>
    public Interval Symmetric(double coverage = 0.95) => Symmetric(Draws.AsSpan(), coverage);

    /// <summary>The shortest of all intervals that hold the stated share of draws.</summary>
    public Interval Shortest(double coverage = 0.95)
    {
        var span = Math.Clamp((int)Math.Round(coverage * Draws.Length), 1, Draws.Length - 1);
        var best = 0;
        for (var i = 1; i + span < Draws.Length; i++)
        {
            if (Draws[i + span] - Draws[i] < Draws[best + span] - Draws[best])
            {
                best = i;
            }
        }

        return new Interval(Draws[best], Draws[best + span]);
    }

    /// <summary>Whether the symmetric interval of the straight-line result agrees with the draws within the numerical tolerance (JCGM 101:2008, 8).</summary>
    /// <param name="digits">Significant digits of the standard uncertainty that are to be trusted.</param>
    public bool LinearHolds(double coverage = 0.95, int digits = 2)
    {
        if (_linear.StandardUncertainty == 0)
        {
            return StandardUncertainty == 0;
        }

        var (line, drawn) = (_linear.CoverageInterval(coverage), Symmetric(coverage));
        var tolerance = MonteCarlo.NumericalTolerance(_linear.StandardUncertainty, digits);
        return Math.Abs(line.Lower - drawn.Lower) <= tolerance && Math.Abs(line.Upper - drawn.Upper) <= tolerance;
    }

    internal static Interval Symmetric(ReadOnlySpan<double> sorted, double coverage) =>
        new(Quantile(sorted, (1 - coverage) / 2), Quantile(sorted, (1 + coverage) / 2));

    internal static double Quantile(ReadOnlySpan<double> sorted, double probability)
    {
        var position = Math.Clamp((probability * sorted.Length) - 0.5, 0, sorted.Length - 1);
        var index = (int)position;
        var next = Math.Min(index + 1, sorted.Length - 1);
        return sorted[index] + ((position - index) * (sorted[next] - sorted[index]));
    }
}
