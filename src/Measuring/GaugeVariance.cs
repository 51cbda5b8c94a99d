using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Pairbench.Measuring;

/// <summary>A gauge study by crossed analysis of variance, with what its few parts and appraisers leave unknown.</summary>
/// <remarks>
/// Both factors are random. Intervals are generalized ones: every mean square is divided by a chi-square draw over its degrees of freedom and the
/// components are taken from the draws, not below zero (M. Hamada and S. Weerahandi, J. Quality Technology 32, 241, 2000; from memory).
/// </remarks>
/// <param name="PInteraction">Probability of so large an interaction by chance; 1 where neither interaction nor repeats spread.</param>
/// <param name="Pooled">Whether the interaction was pooled into the repeats.</param>
/// <param name="Parts">Number of parts.</param>
/// <param name="Appraisers">Number of appraisers.</param>
public sealed record GaugeVariance(TwoWay Table, double PInteraction, bool Pooled, int Parts, int Appraisers)
{
    /// <summary>Probability above which an interaction is pooled (common practice).</summary>
    public const double PoolAbove = 0.25;

    private const int Draws = 10_000;
    private const int Seed = 20_261;

    /// <summary>The line that parts and appraisers are held against.</summary>
    public VarianceLine Error => Pooled ? Table.Interaction + Table.Within : Table.Interaction;

    /// <summary>The line of the repeats.</summary>
    public VarianceLine Repeats => Pooled ? Error : Table.Within;

    public GaugeStudy Study => From(Table.Rows.MeanSquare, Table.Columns.MeanSquare, Error.MeanSquare, Repeats.MeanSquare);

    /// <param name="readings">Parts by appraisers by repeats.</param>
    /// <param name="poolAbove">The interaction is pooled when its probability lies above this; 1 never pools.</param>
    /// <exception cref="ArgumentException">Fewer than two parts, appraisers or repeats, or a reading is not finite.</exception>
    public static GaugeVariance Of(double[,,] readings, double poolAbove = PoolAbove)
    {
        ArgumentNullException.ThrowIfNull(readings);
        var table = TwoWay.Of(readings);
        var p = table.Interaction.SumOfSquares == 0 ? 1
            : table.Within.SumOfSquares == 0 ? 0
            : table.Interaction.ProbabilityAgainst(table.Within);
        return new(table, p, p > poolAbove, readings.GetLength(0), readings.GetLength(1));
    }

    /// <summary>Something taken from the study, with its generalized interval.</summary>
    /// <param name="unit">UCUM unit of what <paramref name="part"/> gives.</param>
    /// <param name="cause">Name of the study as a cause of uncertainty.</param>
    /// <remarks>
    /// The outermost thousandth of the draws at each end counts as lying at its edge: with two or three appraisers the standard deviation of what is
    /// known of them has no end otherwise.
    /// </remarks>
    /// <exception cref="ArgumentException">The part is not finite, such as a ratio to a gauge that never spreads.</exception>
    public Measured Of(string unit, string cause, Func<GaugeStudy, double> part)
    {
        ArgumentNullException.ThrowIfNull(part);
        var value = part(Study);
        if (Repeats.SumOfSquares == 0 && Error.SumOfSquares == 0)
        {
            return Measured.Exact(value, unit);
        }

        double[] sorted = [.. Known().Select(part).Order()];
        var (low, high) = (sorted[Draws / 1000], sorted[^((Draws / 1000) + 1)]);
        ImmutableArray<double> draws = [.. sorted.Select(d => Math.Clamp(d, low, high))];
        return Measured.Of(value, unit, cause, Summary.Of(draws.AsSpan()).StandardDeviation, Evaluation.TypeA).WithSamples(draws);
    }

    private IEnumerable<GaugeStudy> Known()
    {
        var random = new MersenneTwister(Seed);
        double MeanSquare(VarianceLine line) => line.SumOfSquares / ChiSquared.Sample(random, line.DegreesOfFreedom);
        for (var i = 0; i < Draws; i++)
        {
            var rows = MeanSquare(Table.Rows);
            var columns = MeanSquare(Table.Columns);
            var error = MeanSquare(Error);
            yield return From(rows, columns, error, Pooled ? error : MeanSquare(Table.Within));
        }
    }

    private GaugeStudy From(double rows, double columns, double error, double repeats)
    {
        var interaction = Pooled ? 0 : Math.Max(0, (error - repeats) / Table.Repeats);
        var appraiser = Math.Max(0, (columns - error) / (Parts * Table.Repeats));
        return new(repeats, appraiser + interaction, Math.Max(0, (rows - error) / (Appraisers * Table.Repeats)));
    }
}
