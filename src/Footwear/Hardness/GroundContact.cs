using MathNet.Numerics.Integration;
using MathNet.Numerics.LinearAlgebra;

namespace Pairbench.Footwear.Hardness;

/// <summary>A rigid probe pressed on a ground whose surface gives way by a known amount to a pressure of every wave length; no friction at the probe, small strains.</summary>
/// <remarks>
/// The dual integral equations of a probe of revolution come down to one Fredholm equation, phi(t) + 2/pi ratio int phi(s) int (C(x) - 1) cos(ratio x t) cos(ratio x s) dx ds = depth - g(t),
/// solved at Gauss-Legendre nodes; g(t) = t int_0^t f'(r) / sqrt(t^2 - r^2) dr is the shape f(r) of the probe. Hayes, Keer, Herrmann and Mockros, J. Biomech. 5 (1972) 541,
/// have it for punch and ball on one layer.
/// </remarks>
internal sealed class GroundContact
{
    // All transfer functions meet that of the half space within 1e-13 from here on.
    private const double LastWave = 18;

    private static readonly Rule Fine = new(64, 256);
    private static readonly Rule Quick = new(24, 112);

    private readonly Rule _rule;
    private readonly double[] _less;

    private GroundContact(Func<double, double> transfer, Rule rule)
    {
        _rule = rule;
        _less = [.. rule.Waves.Abscissas.Select((x, k) => 2 / Math.PI * rule.Waves.Weights[k] * (transfer(x) - 1))];
    }

    /// <param name="transfer">Surface compliance over that of a half space of the topmost stuff, by wave number times a length of the ground.</param>
    public static GroundContact On(Func<double, double> transfer) => new(transfer, Fine);

    /// <summary>The same with fewer nodes: within 1e-5 for a contact up to four lengths wide.</summary>
    public static GroundContact QuickOn(Func<double, double> transfer) => new(transfer, Quick);

    /// <summary>A probe pressed in until its contact has a given radius.</summary>
    /// <param name="ratio">Radius of contact over the length of the ground, above 0 and up to 12.</param>
    /// <param name="shape">g(t) of the probe over the contact, t from 0 to 1; its unit is that of the depth.</param>
    public Pressing Press(double ratio, Func<double, double> shape)
    {
        if (!(ratio > 0 && ratio <= 12))
        {
            throw new ArgumentOutOfRangeException(nameof(ratio), ratio, "The ratio of contact to layer lies above 0 and up to 12.");
        }

        var (t, weights, x) = (_rule.Contact.Abscissas, _rule.Contact.Weights, _rule.Waves.Abscissas);
        var (nodes, waves) = (t.Length, x.Length);

        // The last row is the edge of contact, to which the equation itself carries the solution from the nodes.
        var cosines = new double[nodes + 1][];
        for (var i = 0; i <= nodes; i++)
        {
            var at = ratio * (i < nodes ? t[i] : 1);
            cosines[i] = new double[waves];
            for (var k = 0; k < waves; k++)
            {
                cosines[i][k] = Math.Cos(at * x[k]);
            }
        }

        var kernel = new double[nodes + 1, nodes];
        var weighted = new double[waves];
        for (var i = 0; i <= nodes; i++)
        {
            for (var k = 0; k < waves; k++)
            {
                weighted[k] = ratio * _less[k] * cosines[i][k];
            }

            for (var j = 0; j <= Math.Min(i, nodes - 1); j++)
            {
                var sum = 0.0;
                var other = cosines[j];
                for (var k = 0; k < weighted.Length; k++)
                {
                    sum += weighted[k] * other[k];
                }

                kernel[i, j] = sum;
                if (i < nodes)
                {
                    kernel[j, i] = sum;
                }
            }
        }

        var system = Matrix<double>.Build.Dense(nodes, nodes, (i, j) => (i == j ? 1 : 0) + (kernel[i, j] * weights[j])).LU();
        (double Force, double Edge) Solve(Func<double, double> right)
        {
            var density = system.Solve(Vector<double>.Build.Dense(nodes, i => right(t[i])));
            var (force, edge) = (0.0, right(1));
            for (var j = 0; j < nodes; j++)
            {
                force += weights[j] * density[j];
                edge -= kernel[nodes, j] * weights[j] * density[j];
            }

            return (force, edge);
        }

        var flat = Solve(_ => 1);
        var bowl = Solve(shape);
        var depth = bowl.Edge / flat.Edge;
        return new(flat.Force, depth, (depth * flat.Force) - bowl.Force);
    }

    private sealed record Rule(GaussLegendreRule Contact, GaussLegendreRule Waves)
    {
        public Rule(int contact, int waves)
            : this(new GaussLegendreRule(0, 1, contact), new GaussLegendreRule(0, LastWave, waves))
        {
        }
    }
}

/// <summary>A probe in the ground; a is the radius of contact and E* = E/(1 - nu^2) that of the topmost stuff.</summary>
/// <param name="Punch">Force of a flat punch of the radius of contact, over that on a half space of the topmost stuff.</param>
/// <param name="Depth">At which the shape's contact has that radius.</param>
/// <param name="Force">Of the shape over 2 E* a.</param>
internal readonly record struct Pressing(double Punch, double Depth, double Force);
