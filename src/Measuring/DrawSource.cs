using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace Pairbench.Measuring;

/// <summary>Draws of the inputs, one set after another.</summary>
internal sealed class DrawSource
{
    private readonly MersenneTwister _random;
    private readonly Causes _causes;
    private readonly Distribution?[] _shapes;
    private readonly int[] _joint;
    private readonly double[] _stretch;
    private readonly double[] _normals;
    private readonly double[] _draws;
    private readonly double[] _inputs;
    private readonly Measured[] _given;
    private readonly double[] _linear;
    private bool _hasSpare;
    private double _spare;

    public DrawSource(MonteCarlo settings, ReadOnlySpan<Measured> inputs)
    {
        _random = new MersenneTwister(settings.Seed, false);
        _causes = Causes.Of(inputs);
        _shapes = [.. _causes.Names.Select(n => settings.Shapes.GetValueOrDefault(n))];
        var estimates = _causes.Estimates.Distinct(StringComparer.Ordinal).ToArray();
        _joint = [.. _causes.Estimates.Select(e => Array.IndexOf(estimates, e))];
        _stretch = new double[estimates.Length];
        _normals = new double[_causes.Count];
        _draws = new double[_causes.Count];
        _inputs = new double[inputs.Length];
        _given = inputs.ToArray();
        _linear = [.. Enumerable.Range(0, inputs.Length).Select(_causes.Linear)];
    }

    public double[] Next()
    {
        Array.Clear(_stretch);
        for (var k = 0; k < _normals.Length; k++)
        {
            var g = _normals[k] = NextNormal();
            if (_shapes[k] is { } shape)
            {
                _draws[k] = shape.Draw(g, _random);
                continue;
            }

            var dof = _causes.DegreesOfFreedom[k];
            if (double.IsInfinity(dof))
            {
                _draws[k] = g;
                continue;
            }

            ref var stretch = ref _stretch[_joint[k]];
            stretch = stretch == 0 ? Math.Sqrt(dof / ChiSquared.Sample(_random, dof)) : stretch;
            _draws[k] = g * stretch;
        }

        for (var i = 0; i < _inputs.Length; i++)
        {
            _inputs[i] = _given[i].Samples.IsEmpty
                ? _given[i].Value + _causes.Shift(i, _draws)
                : Quantile(_given[i], _linear[i] == 0 ? NextNormal() : _causes.Shift(i, _normals) / _linear[i]);
        }

        return _inputs;
    }

    private static double Quantile(Measured input, double normal) => Simulated.Quantile(input.Samples.AsSpan(), Normal.CDF(0, 1, normal));

    /// <summary>Marsaglia's polar method.</summary>
    private double NextNormal()
    {
        if (_hasSpare)
        {
            _hasSpare = false;
            return _spare;
        }

        while (true)
        {
            var a = (2 * _random.NextDouble()) - 1;
            var b = (2 * _random.NextDouble()) - 1;
            var s = (a * a) + (b * b);
            if (s is > 0 and < 1)
            {
                var factor = Math.Sqrt(-2 * Math.Log(s) / s);
                _spare = b * factor;
                _hasSpare = true;
                return a * factor;
            }
        }
    }
}
