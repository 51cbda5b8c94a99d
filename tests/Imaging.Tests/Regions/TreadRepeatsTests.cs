using Pairbench.Imaging.Regions;

namespace Pairbench.Imaging.Tests.Regions;

public sealed class TreadRepeatsTests
{
    private const int Width = 300;
    private const int Height = 110;

    /// <remarks>Studs in a slanted lattice of steps (11, 3) and (-2, 12); three places in ten of a part of the surface are seen wrongly.</remarks>
    [Fact]
    public void Where_the_tread_is_badly_seen_it_is_told_by_what_lies_a_step_away()
    {
        var told = TreadRepeats.Of(Lattice((x, y) => x is > 120 and < 160 ? (((7 * x) + (13 * y)) % 10) - 2.5f : 3), Everywhere(), 1.1);
        var (right, count) = (0, 0);
        for (var y = 15; y < Height - 15; y++)
        {
            for (var x = 121; x < 160; x++)
            {
                right += told.Told[x, y] > 0 == IsStud(x, y) ? 1 : 0;
                count++;
            }
        }

        Assert.True(right > 0.95 * count, $"{right} of {count}");
        Assert.All(told.Alike.Values, v => Assert.InRange(v, 0, 1));
    }

    [Fact]
    public void Steps_are_those_of_the_lattice()
    {
        var p = Lattice((_, _) => 1);
        var mean = p.Values.Average();
        var steps = TreadRepeats.StepsOf(p.Map(v => v - mean), Everywhere(), 1.1);
        Assert.Contains((-2, 12), steps);
        Assert.Contains((22, 6), steps);
        Assert.Equal(12, steps.Distinct().Count());
        Assert.All(steps, s => Assert.True(IsStep(s.Dx, s.Dy), $"{s}"));

        // a (11, 3) + b (-2, 12), a and b whole.
        static bool IsStep(int dx, int dy) => ((12 * dx) + (2 * dy)) % 138 == 0 && ((11 * dy) - (3 * dx)) % 138 == 0;
    }

    [Fact]
    public void What_has_no_pattern_is_told_nothing()
    {
        var random = new Random(5);
        var told = TreadRepeats.Of(new Plane(Width, Height).Map(_ => (random.NextSingle() * 6) - 3), Everywhere(), 1.1);
        Assert.All(told.Told.Values, v => Assert.Equal(0, v));
    }

    [Fact]
    public void Nothing_is_told_of_what_is_no_surface()
    {
        var told = TreadRepeats.Of(Lattice((_, _) => 3), new Plane(Width, Height), 1.1);
        Assert.All(told.Told.Values, v => Assert.Equal(0, v));
        var half = TreadRepeats.Of(Lattice((_, _) => 3), Everywhere().Shifted(Width / 2, 0), 1.1);
        Assert.Equal(0, half.Told[Width - 20, Height / 2]);
        Assert.NotEqual(0, half.Told[20, Height / 2]);
    }

    private static Plane Lattice(Func<int, int, float> seen)
    {
        var plane = new Plane(Width, Height);
        for (var y = 0; y < Height; y++)
        {
            for (var x = 0; x < Width; x++)
            {
                plane.Values[(y * Width) + x] = seen(x, y) * (IsStud(x, y) ? 1 : -1);
            }
        }

        return plane;
    }

    private static bool IsStud(int x, int y)
    {
        double a = ((12.0 * x) + (2 * y)) / 138, b = ((11.0 * y) - (3 * x)) / 138;
        return Math.Abs(a - Math.Round(a)) < 0.33 && Math.Abs(b - Math.Round(b)) < 0.33;
    }

    private static Plane Everywhere() => new Plane(Width, Height).Map(_ => 1);
}
