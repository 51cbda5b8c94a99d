using CsCheck;
using Pairbench.Imaging.Colour;

namespace Pairbench.Imaging.Tests.Colour;

public sealed class DifferenceTests
{
    private static readonly Gen<Lab> Colours = Gen.Select(Gen.Double[0, 100], Gen.Double[-110, 110], Gen.Double[-110, 110], (l, a, b) => new Lab(l, a, b));

    private static readonly Gen<Lab> Greys = Gen.Select(Gen.Double[0, 100], Gen.OneOf(Gen.Const(0.0), Gen.Const(1e-9), Gen.Const(-2.0)), (l, a) => new Lab(l, a, 0));

    [Fact]
    public void Many_at_once_are_as_one_at_a_time() => Gen.Select(Gen.OneOf(Colours, Greys).Array[9], Gen.OneOf(Colours, Greys).Array[9]).Sample((first, second) =>
    {
        var many = new double[first.Length];
        Ciede2000.BetweenAll(first, second, many);
        for (var i = 0; i < many.Length; i++)
        {
            Assert.Equal(Ciede2000.Between(first[i], second[i]), many[i], 1e-7);
        }
    });

    [Fact]
    public void A_difference_does_not_ask_which_comes_first() => Gen.Select(Colours, Colours).Sample((a, b) =>
        Math.Abs(Ciede2000.Between(a, b) - Ciede2000.Between(b, a)) < 1e-9 && Ciede2000.Between(a, a) == 0 && GreyScale.Difference(a, a) == 0);

    [Fact]
    public void Light_comes_back_from_its_colour() => Gen.Select(Gen.Double[0, 1], Gen.Double[0, 1], Gen.Double[0, 1], Gen.Enum<ReferenceWhite>()).Sample((r, g, b, white) =>
    {
        var light = Srgb.FromLab(Srgb.ToLab(new LinearRgb(r, g, b), white), white);
        return Math.Abs(light.Red - r) + Math.Abs(light.Green - g) + Math.Abs(light.Blue - b) < 1e-9 && Math.Abs(Srgb.ToLinear(Srgb.FromLinear(r)) - r) < 1e-6;
    });

    [Fact]
    public void The_grade_falls_as_the_difference_grows() => Gen.Select(Gen.Double[0, 30], Gen.Double[0.001, 5]).Sample((d, more) =>
        GreyScale.Grade(d + more) <= GreyScale.Grade(d) && GreyScale.Grade(d) is >= 1 and <= 5);

    /// <remarks>The interval holds the true size of a difference about as often as it says, near zero too, where a symmetric one does not.</remarks>
    [Theory]
    [InlineData(0.0)]
    [InlineData(0.8)]
    [InlineData(2.5)]
    public void Interval_holds_the_true_size(double size)
    {
        var random = new Random(7 + (int)(10 * size));
        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
        const double noise = 0.3;
        DifferenceShift[] shifts = [new("l", new Lab(noise, 0, 0), double.PositiveInfinity), new("a", new Lab(0, noise, 0), double.PositiveInfinity), new("b", new Lab(0, 0, noise), double.PositiveInfinity)];
        var reference = new Lab(45, 20, -15);
        var truth = new Lab(0.6 * size, 0.5 * size, -0.62 * size);
        var trueSize = Ciede2000.Between(reference, reference + truth);
        const int trials = 100;
        var held = 0;
        for (var i = 0; i < trials; i++)
        {
            var measured = truth + new Lab(noise * Normal(), noise * Normal(), noise * Normal());
            var (draws, _) = DifferenceKnowledge.Of(Ciede2000.Between, reference, measured, [.. shifts]);
            Assert.True(draws.SequenceEqual(draws.Order()));
            held += draws[25] <= trueSize && trueSize <= draws[^26] ? 1 : 0;
        }

        Assert.InRange(held, 90, trials);
    }

    [Fact]
    public void Few_degrees_of_freedom_widen_the_interval()
    {
        double Width(double degreesOfFreedom)
        {
            DifferenceShift[] shifts = [new("l", new Lab(0.3, 0, 0), degreesOfFreedom), new("a", new Lab(0, 0.3, 0), degreesOfFreedom)];
            var (draws, _) = DifferenceKnowledge.Of(Ciede2000.Between, new Lab(50, 0, 0), new Lab(5, 0, 0), [.. shifts]);
            return draws[^26] - draws[25];
        }

        Assert.True(Width(3) > 1.3 * Width(double.PositiveInfinity));
    }
}
