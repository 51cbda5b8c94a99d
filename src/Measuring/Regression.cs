using System.Collections.Immutable;

namespace Pairbench.Measuring;

/// <summary>
/// Least squares for a model that is linear in its coefficients. Householder QR with about 32 digits inside, so that nearly dependent
/// columns (a polynomial of degree ten) still give all digits of a double.
/// </summary>
/// <param name="Coefficients">p estimates, in order of the columns.</param>
/// <param name="Covariance">p by p, the residual variance included.</param>
/// <param name="ResidualDeviation">Standard deviation of the residuals with n - p; zero where n equals p.</param>
/// <param name="DegreesOfFreedom">n - p.</param>
/// <param name="RSquared">About the mean where a column is constant, about zero else.</param>
public sealed record Regression(
    ImmutableArray<double> Coefficients,
    double[,] Covariance,
    ImmutableArray<double> Residuals,
    double ResidualDeviation,
    int DegreesOfFreedom,
    double RSquared)
{
    public double StandardUncertainty(int coefficient) => Math.Sqrt(Covariance[coefficient, coefficient]);

    public double Correlation(int a, int b) => Covariance[a, b] / (StandardUncertainty(a) * StandardUncertainty(b));

    /// <summary>y = b0 + b1 x.</summary>
    public static Regression Line(IReadOnlyList<double> x, IReadOnlyList<double> y) => Polynomial(x, y, 1);

    /// <summary>y = b1 x.</summary>
    public static Regression LineThroughOrigin(IReadOnlyList<double> x, IReadOnlyList<double> y)
    {
        ArgumentNullException.ThrowIfNull(x);
        return Solve([.. x.Select(v => new DoubleDouble[] { v })], y);
    }

    /// <summary>y = b0 + b1 x + ... + bd x^d; powers are kept to 32 digits.</summary>
    public static Regression Polynomial(IReadOnlyList<double> x, IReadOnlyList<double> y, int degree)
    {
        ArgumentNullException.ThrowIfNull(x);
        ArgumentOutOfRangeException.ThrowIfNegative(degree);
        return Solve(
            [
                .. x.Select(v =>
                {
                    var row = new DoubleDouble[degree + 1];
                    row[0] = 1;
                    for (var k = 1; k <= degree; k++)
                    {
                        row[k] = row[k - 1] * v;
                    }

                    return row;
                }),
            ],
            y);
    }

    /// <param name="rows">n rows of p predictors each; a constant has to be a column of its own.</param>
    /// <param name="y">n responses.</param>
    /// <exception cref="ArgumentException">Sizes do not fit, fewer rows than columns, a number is not finite, or columns depend on each other.</exception>
    public static Regression Of(IReadOnlyList<IReadOnlyList<double>> rows, IReadOnlyList<double> y)
    {
        ArgumentNullException.ThrowIfNull(rows);
        return Solve([.. rows.Select(r => r.Select(v => (DoubleDouble)v).ToArray())], y);
    }

    /// <summary>The coefficients as measured values, correlated through the shared causes <c>prefix#1</c>, <c>prefix#2</c>...</summary>
    /// <param name="units">p UCUM units.</param>
    public Measured[] AsMeasured(IReadOnlyList<string> units, string causePrefix) => DegreesOfFreedom > 0
        ? Correlated.From(Coefficients, Covariance, units, causePrefix, Evaluation.TypeA, DegreesOfFreedom)
        : throw new InvalidOperationException("As many coefficients as points leave no spread to judge by.");

    private static Regression Solve(DoubleDouble[][] rows, IReadOnlyList<double> y)
    {
        ArgumentNullException.ThrowIfNull(y);
        var n = rows.Length;
        var p = n == 0 ? 0 : rows[0].Length;
        if (p == 0 || n < p || y.Count != n || rows.Any(r => r.Length != p))
        {
            throw new ArgumentException($"A fit takes as many responses as rows, rows of one length, and no fewer rows than columns; got {n} rows of {p} and {y.Count} responses.");
        }

        if (rows.Any(r => r.Any(v => !double.IsFinite(v.High))) || y.Any(v => !double.IsFinite(v)))
        {
            throw new ArgumentException("A fit takes finite numbers only.");
        }

        var (columns, lengths) = Scaled(rows, p);
        columns[p] = [.. y.Select(v => (DoubleDouble)v)];
        for (var j = 0; j < p; j++)
        {
            Reflect(columns, j, n);
            if (Math.Abs(columns[j][j].High) < 1e-25)
            {
                throw new ArgumentException($"Column {j} depends on those before it.");
            }
        }

        var inverse = Invert(columns, p);
        var coefficients = new DoubleDouble[p];
        for (var i = 0; i < p; i++)
        {
            for (var k = i; k < p; k++)
            {
                coefficients[i] += inverse[i, k] * columns[p][k];
            }

            coefficients[i] /= lengths[i];
        }

        // Below the triangle the response keeps what no coefficient reaches.
        var squares = Squares(columns[p], p);
        var variance = n > p ? squares / (n - p) : 0;
        var total = SquaresAboutConstant(rows, [.. y]);
        return new(
            [.. coefficients.Select(c => c.Value)],
            CovarianceOf(inverse, lengths, variance),
            [.. rows.Select((row, i) => (y[i] - Fitted(row, coefficients)).Value)],
            DoubleDouble.Sqrt(variance).Value,
            n - p,
            total.High == 0 ? 1 : (1 - (squares / total)).Value);
    }

    /// <summary>The p columns of the predictors, each divided by its length, with room for the response after them.</summary>
    private static (DoubleDouble[][] Columns, DoubleDouble[] Lengths) Scaled(DoubleDouble[][] rows, int p)
    {
        var columns = new DoubleDouble[p + 1][];
        var lengths = new DoubleDouble[p];
        for (var j = 0; j < p; j++)
        {
            DoubleDouble[] column = [.. rows.Select(r => r[j])];
            var length = DoubleDouble.Sqrt(Squares(column, 0));
            if (length.High == 0)
            {
                throw new ArgumentException($"Column {j} is zero throughout.");
            }

            (columns[j], lengths[j]) = ([.. column.Select(v => v / length)], length);
        }

        return (columns, lengths);
    }

    private static double[,] CovarianceOf(DoubleDouble[,] inverse, DoubleDouble[] lengths, DoubleDouble variance)
    {
        var p = lengths.Length;
        var covariance = new double[p, p];
        for (var i = 0; i < p; i++)
        {
            for (var j = 0; j < p; j++)
            {
                DoubleDouble sum = 0;
                for (var k = Math.Max(i, j); k < p; k++)
                {
                    sum += inverse[i, k] * inverse[j, k];
                }

                covariance[i, j] = (sum * variance / (lengths[i] * lengths[j])).Value;
            }
        }

        return covariance;
    }

    /// <summary>Of the response: about its mean where a column is constant, about zero else.</summary>
    private static DoubleDouble SquaresAboutConstant(DoubleDouble[][] rows, double[] y)
    {
        var hasConstant = Enumerable.Range(0, rows[0].Length).Any(j => rows.All(r => r[j] == rows[0][j]));
        return Summary.SquaresAbout(hasConstant ? Summary.MeanOf(y) : 0, y);
    }

    private static DoubleDouble Fitted(DoubleDouble[] row, DoubleDouble[] coefficients)
    {
        DoubleDouble fitted = 0;
        for (var j = 0; j < row.Length; j++)
        {
            fitted += row[j] * coefficients[j];
        }

        return fitted;
    }

    private static DoubleDouble Squares(DoubleDouble[] column, int from)
    {
        DoubleDouble sum = 0;
        for (var i = from; i < column.Length; i++)
        {
            sum += column[i] * column[i];
        }

        return sum;
    }

    /// <summary>Householder reflection that clears column j below its diagonal, applied to all columns after it.</summary>
    private static void Reflect(DoubleDouble[][] columns, int j, int n)
    {
        var length = DoubleDouble.Sqrt(Squares(columns[j], j));
        if (length.High == 0)
        {
            return;
        }

        var corner = columns[j][j].High > 0 ? -length : length;
        var v = columns[j][j..];
        v[0] -= corner;
        var norm = Squares(v, 0);
        for (var k = j + 1; k < columns.Length; k++)
        {
            DoubleDouble dot = 0;
            for (var i = j; i < n; i++)
            {
                dot += v[i - j] * columns[k][i];
            }

            dot = dot * 2 / norm;
            for (var i = j; i < n; i++)
            {
                columns[k][i] -= dot * v[i - j];
            }
        }

        columns[j][j] = corner;
        for (var i = j + 1; i < n; i++)
        {
            columns[j][i] = 0;
        }
    }

    /// <summary>Inverse of the upper triangle that the reflections left.</summary>
    private static DoubleDouble[,] Invert(DoubleDouble[][] columns, int p)
    {
        var inverse = new DoubleDouble[p, p];
        for (var j = 0; j < p; j++)
        {
            inverse[j, j] = 1 / columns[j][j];
            for (var i = j - 1; i >= 0; i--)
            {
                DoubleDouble sum = 0;
                for (var k = i + 1; k <= j; k++)
                {
                    sum += columns[k][i] * inverse[k, j];
                }

                inverse[i, j] = -sum / columns[i][i];
            }
        }

        return inverse;
    }
}
