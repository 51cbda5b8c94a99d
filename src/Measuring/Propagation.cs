using MathNet.Numerics.LinearAlgebra;

namespace Pairbench.Measuring;

/// <summary>A measurement model: one number from the values of its inputs, in the order in which these were given.</summary>
public delegate double Model(ReadOnlySpan<double> inputs);

/// <summary>Propagation of uncertainty through any smooth model, by numeric sensitivities (JCGM 100:2008, 5).</summary>
public static class Propagation
{
    /// <summary>Step of a sensitivity as a share of the standard uncertainty of the input.</summary>
    private const double Share = 1.0 / 8;

    /// <summary>Smallest step as a share of the value, so that rounding stays below the twelfth digit or so.</summary>
    private const double SmallestStep = 1e-5;

    /// <summary>First order: the budget of every input times the sensitivity of the model to it. Correlation through shared causes is kept.</summary>
    /// <param name="unit">UCUM unit of the result.</param>
    /// <param name="model">Smooth near the inputs; called four times for each input that is not exact.</param>
    /// <exception cref="ArgumentException">The model gives no finite number at or near the inputs.</exception>
    public static Measured Of(string unit, Model model, params ReadOnlySpan<Measured> inputs)
    {
        ArgumentNullException.ThrowIfNull(model);
        var values = Values(inputs);
        var sensitivities = Sensitivities(model, inputs);
        var terms = new (Measured, double)[inputs.Length];
        for (var i = 0; i < terms.Length; i++)
        {
            terms[i] = (inputs[i], sensitivities[i]);
        }

        return Measured.Linear(unit, terms).At(Evaluate(model, values));
    }

    /// <summary>Partial derivatives at the inputs, zero for exact ones; relative error about 1e-8 or better for smooth models.</summary>
    public static double[] Sensitivities(Model model, params ReadOnlySpan<Measured> inputs)
    {
        ArgumentNullException.ThrowIfNull(model);
        var values = Values(inputs);
        var result = new double[values.Length];
        for (var i = 0; i < values.Length; i++)
        {
            var u = inputs[i].StandardUncertainty;
            if (u == 0)
            {
                continue;
            }

            var at = values[i];
            var step = Math.Max(u * Share, Math.Abs(at) * SmallestStep);
            double Shifted(double by)
            {
                values[i] = at + by;
                return Evaluate(model, values);
            }

            result[i] = ((8 * (Shifted(step) - Shifted(-step))) - (Shifted(2 * step) - Shifted(-2 * step))) / (12 * step);
            values[i] = at;
        }

        return result;
    }

    /// <summary>
    /// Second order (JCGM 100:2008, note to 5.1.2): what the first order leaves out is one more cause of the budget.
    /// Holds for normal causes; where it outweighs the first order, use <see cref="MonteCarlo"/>.
    /// </summary>
    /// <param name="cause">Name of the cause that carries the second-order terms, such as <c>curvature:colour-left</c>.</param>
    /// <remarks>Where the terms lessen the variance, all contributions shrink alike. The value is that of the model, without the shift by curvature.</remarks>
    public static Measured ToSecondOrder(string unit, string cause, Model model, params ReadOnlySpan<Measured> inputs)
    {
        var first = Of(unit, model, inputs);
        var causes = Causes.Of(inputs);
        var values = Values(inputs);
        var variance = first.Budget.Sum(c => c.Value * c.Value);
        var extra = SecondOrderVariance(z => Evaluate(model, causes.Inputs(values, z)), causes.Count);
        var total = Math.Max(0, variance + extra);
        return extra >= 0
            ? Measured.Of(first.Value, unit, first.Budget.Add(new Contribution(cause, Evaluation.TypeB, Math.Sqrt(extra))))
            : Measured.Of(first.Value, unit, first.Budget.Select(c => c with { Value = c.Value * Math.Sqrt(total / variance) }));
    }

    internal static double[] Values(ReadOnlySpan<Measured> inputs)
    {
        var values = new double[inputs.Length];
        for (var i = 0; i < values.Length; i++)
        {
            values[i] = inputs[i].Value;
        }

        return values;
    }

    internal static double Evaluate(Model model, ReadOnlySpan<double> values)
    {
        var result = model(values);
        return double.IsFinite(result)
            ? result
            : throw new ArgumentException($"The model gives {result} at ({string.Join(", ", values.ToArray())}); it must give a finite number at and near its inputs.");
    }

    /// <summary>Sum over all pairs of <c>½ f_ij² + f_i f_ijj</c>, in units of the standard uncertainties.</summary>
    private static double SecondOrderVariance(Func<double[], double> f, int count)
    {
        const double h = 0.5;
        var z = new double[count];
        double At(params ReadOnlySpan<(int Index, double By)> shifts)
        {
            foreach (var (index, by) in shifts)
            {
                z[index] += by;
            }

            var value = f(z);
            Array.Clear(z);
            return value;
        }

        var centre = At();
        var sum = 0.0;
        for (var i = 0; i < count; i++)
        {
            var plus = At((i, h));
            var minus = At((i, -h));
            var slope = (plus - minus) / (2 * h);
            for (var j = 0; j < count; j++)
            {
                double mixed;
                double third;
                if (i == j)
                {
                    mixed = (plus - (2 * centre) + minus) / (h * h);
                    third = (At((i, 2 * h)) - (2 * plus) + (2 * minus) - At((i, -2 * h))) / (2 * h * h * h);
                }
                else
                {
                    var (pp, pm, mp, mm) = (At((i, h), (j, h)), At((i, h), (j, -h)), At((i, -h), (j, h)), At((i, -h), (j, -h)));
                    mixed = (pp - pm - mp + mm) / (4 * h * h);
                    third = ((pp - (2 * plus) + pm) - (mp - (2 * minus) + mm)) / (2 * h * h * h);
                }

                sum += (mixed * mixed / 2) + (slope * third);
            }
        }

        return sum;
    }
}

/// <summary>Inputs whose uncertainties are known as a covariance matrix, turned into shared independent causes.</summary>
public static class Correlated
{
    /// <summary>Parts of the correlation matrix below zero by no more than this are rounding.</summary>
    private const double Rounding = 1e-9;

    /// <param name="values">n values.</param>
    /// <param name="covariance">n by n, symmetric, no eigenvalue below zero; in products of the units of the values.</param>
    /// <param name="units">n UCUM units.</param>
    /// <param name="causePrefix">The causes are named <c>prefix#1</c> to <c>prefix#n</c>: parts of one joint estimate.</param>
    /// <param name="degreesOfFreedom">Of the joint estimate: of the fit, or readings less one.</param>
    /// <returns>n values whose budgets reproduce the covariance.</returns>
    /// <exception cref="ArgumentException">Sizes differ, or the matrix is no covariance.</exception>
    public static Measured[] From(
        IReadOnlyList<double> values,
        double[,] covariance,
        IReadOnlyList<string> units,
        string causePrefix,
        Evaluation evaluation = Evaluation.TypeA,
        double degreesOfFreedom = double.PositiveInfinity)
    {
        ArgumentNullException.ThrowIfNull(values);
        ArgumentNullException.ThrowIfNull(covariance);
        ArgumentNullException.ThrowIfNull(units);
        var n = values.Count;
        if (covariance.GetLength(0) != n || covariance.GetLength(1) != n || units.Count != n)
        {
            throw new ArgumentException($"{n} values need {n} units and a covariance of {n} by {n}; got {units.Count} and {covariance.GetLength(0)} by {covariance.GetLength(1)}.");
        }

        // Scaled to correlations first: variances of unlike units differ by many powers of ten.
        var scale = new double[n];
        for (var i = 0; i < n; i++)
        {
            if (!(covariance[i, i] >= 0) || !double.IsFinite(covariance[i, i]))
            {
                throw new ArgumentException($"A variance is finite and not negative; got {covariance[i, i]} at {i}.");
            }

            scale[i] = Math.Sqrt(covariance[i, i]);
        }

        double Correlation(int i, int j) => i == j ? 1 : scale[i] == 0 || scale[j] == 0 ? 0 : covariance[i, j] / (scale[i] * scale[j]);
        for (var i = 0; i < n; i++)
        {
            for (var j = 0; j < i; j++)
            {
                var r = Correlation(i, j);
                if (!(Math.Abs(r) <= 1 + Rounding) || !(Math.Abs(r - Correlation(j, i)) <= Rounding) || (scale[i] * scale[j] == 0 && covariance[i, j] != 0))
                {
                    throw new ArgumentException($"A covariance is symmetric with correlations between -1 and 1; got {covariance[i, j]} and {covariance[j, i]} at {i}, {j}.");
                }
            }
        }

        var eigen = Matrix<double>.Build.Dense(n, n, (i, j) => (Correlation(i, j) + Correlation(j, i)) / 2).Evd(Symmetricity.Symmetric);
        var roots = eigen.EigenValues.Select(v => v.Real >= -Rounding * n
            ? Math.Sqrt(Math.Max(0, v.Real))
            : throw new ArgumentException($"A covariance has no eigenvalue below zero; the correlation matrix has {v.Real}.")).ToArray();
        var digits = n.ToString(System.Globalization.CultureInfo.InvariantCulture).Length;
        return [.. Enumerable.Range(0, n).Select(i => Measured.Of(
            values[i],
            units[i],
            Enumerable.Range(0, n).Select(k => new Contribution(
                $"{causePrefix}#{(k + 1).ToString(System.Globalization.CultureInfo.InvariantCulture).PadLeft(digits, '0')}",
                evaluation,
                scale[i] * eigen.EigenVectors[i, k] * roots[k],
                degreesOfFreedom))))];
    }
}

/// <summary>All causes behind some inputs, in order of name, with their contribution to each input.</summary>
internal sealed class Causes
{
    /// <summary>By input: those that it has, each with the number of its cause. Of many inputs each rests on few of all causes.</summary>
    private readonly (int Cause, double Value)[][] _contributions;

    private Causes(string[] names, double[] degreesOfFreedom, string[] estimates, (int Cause, double Value)[][] contributions)
    {
        Names = names;
        DegreesOfFreedom = degreesOfFreedom;
        Estimates = estimates;
        _contributions = contributions;
    }

    public string[] Names { get; }

    public double[] DegreesOfFreedom { get; }

    public string[] Estimates { get; }

    public int Count => Names.Length;

    public static Causes Of(ReadOnlySpan<Measured> inputs)
    {
        var all = new SortedDictionary<string, Contribution>(StringComparer.Ordinal);
        foreach (var input in inputs)
        {
            foreach (var c in input.Budget)
            {
                all[c.Cause] = all.TryGetValue(c.Cause, out var known) && known.DegreesOfFreedom < c.DegreesOfFreedom ? known : c;
            }
        }

        var names = all.Keys.ToArray();
        var contributions = new (int, double)[inputs.Length][];
        for (var i = 0; i < inputs.Length; i++)
        {
            contributions[i] = [.. inputs[i].Budget.Select(c => (Array.BinarySearch(names, c.Cause, StringComparer.Ordinal), c.Value))];
        }

        return new(names, [.. all.Values.Select(c => c.DegreesOfFreedom)], [.. all.Values.Select(c => c.Estimate)], contributions);
    }

    /// <summary>Input values when each cause is off by <paramref name="z"/> standard uncertainties.</summary>
    public double[] Inputs(double[] values, ReadOnlySpan<double> z)
    {
        var inputs = (double[])values.Clone();
        for (var i = 0; i < inputs.Length; i++)
        {
            inputs[i] += Shift(i, z);
        }

        return inputs;
    }

    public double Shift(int input, ReadOnlySpan<double> z)
    {
        var sum = 0.0;
        foreach (var (cause, value) in _contributions[input])
        {
            sum += value * z[cause];
        }

        return sum;
    }

    /// <summary>Root of the sum of squares of one input's contributions.</summary>
    public double Linear(int input)
    {
        var sum = 0.0;
        foreach (var (_, value) in _contributions[input])
        {
            sum += value * value;
        }

        return Math.Sqrt(sum);
    }
}
