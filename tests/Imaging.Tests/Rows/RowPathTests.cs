using CsCheck;
using Pairbench.Imaging.Rows;

namespace Pairbench.Imaging.Tests.Rows;

public sealed class RowPathTests
{
    [Fact]
    public void An_arc_does_not_wander() => Gen.Select(Gen.Double[40, 400], Gen.Double[30, 120], Gen.Double[0, 6]).Sample((radius, length, turn) =>
    {
        var marks = Enumerable.Range(0, (int)(length / 3)).Select(i => turn + (3 * i / radius)).Select(a => new PlanePoint(radius * Math.Cos(a), radius * Math.Sin(a))).ToArray();
        var path = RowPath.Of([.. marks]);
        Assert.All(path.Off, o => Assert.Equal(0, o, 0.04));
        Assert.Equal(3 * (marks.Length - 1), path.Along[^1] - path.Along[0], 0.01 * length);
    });

    [Fact]
    public void A_short_swing_is_wander_and_a_long_one_is_shape()
    {
        double Rms(double wavelength)
        {
            var marks = Enumerable.Range(0, 60).Select(i => new PlanePoint(2 * i, 0.3 * Math.Sin(2 * Math.PI * 2 * i / wavelength)));
            var path = RowPath.Of([.. marks]);
            return Math.Sqrt(path.Off.Average(o => o * o));
        }

        Assert.Equal(0.3 / Math.Sqrt(2), Rms(20), 0.04);
        Assert.InRange(Rms(120), 0, 0.03);
    }

    [Fact]
    public void Off_to_the_right_is_above_zero()
    {
        var marks = Enumerable.Range(0, 30).Select(i => new PlanePoint(2 * i, i == 15 ? 0.5 : 0));
        Assert.True(RowPath.Of([.. marks]).Off[15] > 0.3);
    }

    [Fact]
    public void A_guide_goes_through_the_points_of_its_path()
    {
        PlanePoint[] path = [new(0, 0), new(20, 3), new(40, 0), new(60, -4)];
        var guide = GuideCurve.Of(path, 5, 0);
        Assert.Equal(0, guide.At(0, 0).DistanceTo(path[0]), 0.15);
        Assert.Equal(0, guide.At(guide.Length, 0).DistanceTo(path[^1]), 0.15);
        Assert.Equal(1, guide.At(30, 0).DistanceTo(guide.At(30, 1)), 1e-9);
    }
}
