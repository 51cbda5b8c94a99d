using System.Collections.Immutable;
using Pairbench.Footwear.Hardness;
using Pairbench.Footwear.Oven;
using Pairbench.Reference.Measuring;

namespace Pairbench.Reference.Footwear.Oven;

/// <summary>The terms of the plane wall's series and the error function, row by row (heat.json): each out of its own equation, and the oven's conduction against them.</summary>
public sealed class PlaneWallSeriesTests
{
    /// <remarks>zeta tan(zeta) = Bi; the coefficient 4 sin z/(2 z + sin 2z), that of the heat left C1 sin z/z. Four-figure tables of textbooks agree.</remarks>
    [Fact]
    public void First_roots_and_coefficients_follow_the_table()
    {
        foreach (var row in Heated.Facts.GetProperty("planeWallOneTerm").EnumerateArray())
        {
            var term = new Term(row.At("Bi").GetDouble(), 0);
            Assert.Equal(row.At("zeta1").GetDouble(), term.Zeta, 1e-6);
            Assert.Equal(row.At("C1").GetDouble(), term.Coefficient, 1e-6);
            Assert.Equal(row.At("heatCoefficient").GetDouble(), term.Coefficient * Math.Sin(term.Zeta) / term.Zeta, 1e-6);
        }
    }

    [Fact]
    public void Six_roots_and_coefficients_follow_the_table()
    {
        foreach (var row in Heated.Facts.GetProperty("planeWallRoots").EnumerateArray())
        {
            foreach (var (n, (zeta, coefficient)) in row.At("zeta").Numbers().Zip(row.At("C").Numbers()).Index())
            {
                var term = new Term(row.At("Bi").GetDouble(), n);
                Assert.Equal(zeta, term.Zeta, 1e-6);
                Assert.Equal(coefficient, term.Coefficient, 1e-6);
            }
        }
    }

    /// <summary>Late in its cooling the wall follows one term: how fast the middle cools gives the root, how warm it is the coefficient, and surface and heat left follow.</summary>
    [Fact]
    public void A_wall_late_in_its_cooling_shows_root_and_coefficient()
    {
        foreach (var row in Heated.Facts.GetProperty("planeWallOneTerm").EnumerateArray())
        {
            var (biot, zeta, coefficient) = (row.At("Bi").GetDouble(), row.At("zeta1").GetDouble(), row.At("C1").GetDouble());

            // The second term has died away by then; over the span the middle cools by a factor of e.
            const double From = 0.6;
            var span = 1 / (zeta * zeta);
            var (early, late) = (Heated.PlaneWall(biot, From), Heated.PlaneWall(biot, From + span));
            var found = Math.Sqrt(Math.Log(early.Centre / late.Centre) / span);
            Assert.Equal(1, found / zeta, 2e-4);
            Assert.Equal(1, early.Centre * Math.Exp(found * found * From) / coefficient, 5e-4);
            Assert.Equal(Math.Cos(zeta), late.Surface / late.Centre, 5e-4);
            Assert.Equal(row.At("heatCoefficient").GetDouble(), Heated.ShareLeft(biot, From) * Math.Exp(zeta * zeta * From), 5e-4);
        }
    }

    /// <summary>Early the six terms are all of it.</summary>
    [Fact]
    public void A_wall_early_in_its_cooling_follows_the_sum_of_the_six_terms()
    {
        foreach (var row in Heated.Facts.GetProperty("planeWallRoots").EnumerateArray())
        {
            foreach (var fourier in new[] { 0.05, 0.1, 0.3 })
            {
                double At(double place) => row.At("zeta").Numbers().Zip(row.At("C").Numbers()).Sum(t => t.Second * Math.Exp(-t.First * t.First * fourier) * Math.Cos(t.First * place));
                var (surface, centre) = Heated.PlaneWall(row.At("Bi").GetDouble(), fourier);
                Assert.Equal(At(1), surface, 5e-4);
                Assert.Equal(At(0), centre, 5e-4);
            }
        }
    }

    /// <remarks>A half space whose face is held warms by erfc(x / (2 sqrt(alpha t))) (Carslaw and Jaeger): a layer as deep as the place over one so thick that its end stays cold.</remarks>
    [Fact]
    public void A_half_space_whose_face_is_held_follows_the_error_function()
    {
        foreach (var row in Heated.Facts.GetProperty("errorFunction").EnumerateArray())
        {
            // Of unit diffusion length: conductivity 1, heat capacity 1, a time of 1. A film without resistance holds the face.
            var depth = 2 * row.At("eta").GetDouble();
            ImmutableArray<SlabLayer> layers = depth > 0 ? [new(depth, 1, 1), new(12, 1, 1)] : [new(12, 1, 1)];
            var found = Heated.At(new Slab(layers, new SlabFace.ProgrammeAir(1e7), new SlabFace.Insulated(), 0, [new AirStretch(1, 100, 100)], 200));
            Assert.Equal(row.At("erfc").GetDouble(), found[depth > 0 ? 1 : 0] / 100, 5e-4);
            Assert.Equal(row.At("erf").GetDouble(), 1 - (found[depth > 0 ? 1 : 0] / 100), 5e-4);
        }
    }

    /// <remarks>The relation of Shore A that is written with an error function, S = 100 erf(3.186e-4 sqrt(E)), E in Pa (from memory): its inverse must give the argument back.</remarks>
    [Fact]
    public void The_error_function_of_a_modulus_is_the_tables()
    {
        foreach (var row in Heated.Facts.GetProperty("errorFunction").EnumerateArray().Where(r => r.At("eta").GetDouble() is > 0 and < 1.5))
        {
            var argument = 3.186e-4 * Math.Sqrt(1e6 * HardnessModulus.ErrorFunction(100 * row.At("erf").GetDouble()));
            Assert.Equal(row.At("eta").GetDouble(), argument, 1e-5);
        }
    }

    /// <summary>One term of the series for a wall cooled through a film, n from 0.</summary>
    private readonly record struct Term(double Biot, int Order)
    {
        public double Zeta
        {
            get
            {
                var (from, to) = (Order * Math.PI, (Order + 0.5) * Math.PI);
                for (var i = 0; i < 80; i++)
                {
                    // z sin z - Bi cos z changes its sign once in the half period, and has no pole there.
                    var middle = (from + to) / 2;
                    (from, to) = ((middle * Math.Sin(middle)) - (Biot * Math.Cos(middle))) * (Order % 2 == 0 ? 1 : -1) < 0 ? (middle, to) : (from, middle);
                }

                return (from + to) / 2;
            }
        }

        public double Coefficient => 4 * Math.Sin(Zeta) / ((2 * Zeta) + Math.Sin(2 * Zeta));
    }
}
