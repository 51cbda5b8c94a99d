namespace Pairbench.Measuring;

/// <summary>One line of an analysis of variance.</summary>
/// <param name="SumOfSquares">Not below zero.</param>
public readonly record struct VarianceLine(double SumOfSquares, int DegreesOfFreedom)
{
    public double MeanSquare => SumOfSquares / DegreesOfFreedom;

    /// <summary>F against another line; not a number where both are zero.</summary>
    public double Against(VarianceLine other) => MeanSquare / other.MeanSquare;

    /// <summary>Probability of so large an F by chance.</summary>
    public double ProbabilityAgainst(VarianceLine other) => Probability.OfF(Against(other), DegreesOfFreedom, other.DegreesOfFreedom);

    public static VarianceLine operator +(VarianceLine a, VarianceLine b) => new(a.SumOfSquares + b.SumOfSquares, a.DegreesOfFreedom + b.DegreesOfFreedom);

    public static VarianceLine Add(VarianceLine left, VarianceLine right) => left + right;
}

/// <summary>Analysis of variance of readings in groups.</summary>
/// <param name="EqualSize">Readings in a group; for groups of unlike size the size that stands for them (ISO 5725-2:2019, 7.4.5 practice).</param>
public sealed record OneWay(double Mean, VarianceLine Between, VarianceLine Within, double EqualSize)
{
    public double F => Between.Against(Within);

    /// <summary>Probability of so large an F by chance.</summary>
    public double Probability => Between.ProbabilityAgainst(Within);

    public double RSquared => Between.SumOfSquares / (Between.SumOfSquares + Within.SumOfSquares);

    /// <summary>Standard deviation within groups; repeatability s_r in the sense of ISO 5725.</summary>
    public double WithinDeviation => Math.Sqrt(Within.MeanSquare);

    /// <summary>Standard deviation between groups without that within; zero where the groups differ less than chance would have them.</summary>
    public double BetweenDeviation => Math.Sqrt(Math.Max(0, Between.MeanSquare - Within.MeanSquare) / EqualSize);

    /// <summary>Reproducibility s_R in the sense of ISO 5725: within and between together.</summary>
    public double ReproducibilityDeviation => Math.Sqrt(Within.MeanSquare + (BetweenDeviation * BetweenDeviation));

    /// <summary>Largest difference of two readings of one group to be expected in 95 % (2.8 s_r).</summary>
    public double RepeatabilityLimit => 2.8 * WithinDeviation;

    /// <summary>Largest difference of two readings of different groups to be expected in 95 % (2.8 s_R).</summary>
    public double ReproducibilityLimit => 2.8 * ReproducibilityDeviation;

    /// <exception cref="ArgumentException">Fewer than two groups, an empty group, or no group with two readings.</exception>
    public static OneWay Of(IEnumerable<IReadOnlyList<double>> groups)
    {
        double[][] all = [.. groups.Select(g => g.ToArray())];
        double[] flat = [.. all.SelectMany(g => g)];
        if (all.Length < 2 || all.Any(g => g.Length == 0) || flat.Length == all.Length)
        {
            throw new ArgumentException("An analysis of variance takes two groups or more, none empty, one with two readings at least.", nameof(groups));
        }

        Summary.Guard(flat);
        var mean = Summary.MeanOf(flat);
        DoubleDouble between = 0;
        DoubleDouble within = 0;
        foreach (var group in all)
        {
            var own = Summary.MeanOf(group);
            var off = own - mean;
            between += off * off * group.Length;
            within += Summary.SquaresAbout(own, group);
        }

        double n = flat.Length;
        var size = (n - (all.Sum(g => (double)g.Length * g.Length) / n)) / (all.Length - 1);
        return new(mean.Value, new(between.Value, all.Length - 1), new(within.Value, flat.Length - all.Length), size);
    }
}

/// <summary>Analysis of variance of two crossed factors with equal repeats, such as parts and appraisers.</summary>
/// <param name="Repeats">Readings in each cell; two or more.</param>
public sealed record TwoWay(double Mean, VarianceLine Rows, VarianceLine Columns, VarianceLine Interaction, VarianceLine Within, int Repeats)
{
    public VarianceLine Total => Rows + Columns + Interaction + Within;

    /// <param name="cells">Rows by columns by repeats.</param>
    /// <exception cref="ArgumentException">Fewer than two rows, columns or repeats.</exception>
    public static TwoWay Of(double[,,] cells)
    {
        ArgumentNullException.ThrowIfNull(cells);
        var (rows, columns, repeats) = (cells.GetLength(0), cells.GetLength(1), cells.GetLength(2));
        if (rows < 2 || columns < 2 || repeats < 2)
        {
            throw new ArgumentException($"Two crossed factors take two rows, columns and repeats at least; got {rows}, {columns}, {repeats}.", nameof(cells));
        }

        double[] All(int? row, int? column) =>
        [
            .. from i in Enumerable.Range(0, rows)
               where row is null || row == i
               from j in Enumerable.Range(0, columns)
               where column is null || column == j
               from k in Enumerable.Range(0, repeats)
               select cells[i, j, k],
        ];
        var flat = All(null, null);
        Summary.Guard(flat);
        var mean = Summary.MeanOf(flat);
        DoubleDouble[] rowMeans = [.. Enumerable.Range(0, rows).Select(i => Summary.MeanOf(All(i, null)))];
        DoubleDouble[] columnMeans = [.. Enumerable.Range(0, columns).Select(j => Summary.MeanOf(All(null, j)))];
        DoubleDouble interaction = 0;
        DoubleDouble within = 0;
        for (var i = 0; i < rows; i++)
        {
            for (var j = 0; j < columns; j++)
            {
                var cell = All(i, j);
                var own = Summary.MeanOf(cell);
                var off = own - rowMeans[i] - columnMeans[j] + mean;
                interaction += off * off * repeats;
                within += Summary.SquaresAbout(own, cell);
            }
        }

        double Effect(DoubleDouble[] means, int each) =>
            (means.Aggregate((DoubleDouble)0, (sum, m) => sum + ((m - mean) * (m - mean))) * each).Value;
        return new(
            mean.Value,
            new(Effect(rowMeans, columns * repeats), rows - 1),
            new(Effect(columnMeans, rows * repeats), columns - 1),
            new(interaction.Value, (rows - 1) * (columns - 1)),
            new(within.Value, rows * columns * (repeats - 1)),
            repeats);
    }
}
