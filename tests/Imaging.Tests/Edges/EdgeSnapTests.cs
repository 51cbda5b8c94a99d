using MathNet.Numerics.Distributions;
using Pairbench.Imaging.Edges;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Imaging.Tests.Edges;

public sealed class EdgeSnapTests
{
    [Fact]
    public void A_click_beside_an_edge_is_drawn_to_it_under_blur_and_noise()
    {
        var errors = new List<(double Error, double Sigma)>();
        for (var seed = 0; seed < 150; seed++)
        {
            var random = new Random(seed);
            var (angle, blur, noise, contrast) = (random.NextDouble() * 2 * Math.PI, 0.4 + (2 * random.NextDouble()), 3 * random.NextDouble(), 40 + (100 * random.NextDouble()));
            var (nx, ny) = (Math.Cos(angle), Math.Sin(angle));
            var at = new PixelPoint(64 + random.NextDouble(), 64 + random.NextDouble());
            var picture = Picture(random, noise, (x, y) => 60 + (contrast * Normal.CDF(0, Math.Sqrt((blur * blur) + (1 / 12.0)), ((x - at.X) * nx) + ((y - at.Y) * ny))));
            var click = new PixelPoint(at.X + Normal.Sample(random, 0, 1.5), at.Y + Normal.Sample(random, 0, 1.5));

            var snapped = EdgeSnap.At(picture, click, 10);

            Assert.NotNull(snapped);
            var (place, normal) = (snapped.Value.Place, snapped.Value.Normal);
            errors.Add((((place.X - at.X) * nx) + ((place.Y - at.Y) * ny), snapped.Value.Sigma));
            Assert.True(Math.Abs((normal.X * nx) + (normal.Y * ny)) > 0.999, $"{seed}: the edge runs another way");
            var along = ((place.X - click.X) * ny) - ((place.Y - click.Y) * nx);
            Assert.InRange(along, -0.2, 0.2);
        }

        Assert.InRange(Math.Sqrt(errors.Average(e => e.Error * e.Error)), 0, 0.1);
        Assert.InRange(errors.Count(e => Math.Abs(e.Error) <= 2.365 * e.Sigma) / (double)errors.Count, 0.91, 1);
    }

    [Fact]
    public void The_edge_that_the_click_is_near_is_taken_and_neither_where_it_lies_between_two()
    {
        var tape = Picture(new Random(1), 1, (x, _) => 60 + (100 * (Normal.CDF(56, 0.8, x) - Normal.CDF(72, 0.8, x))));

        Assert.InRange(EdgeSnap.At(tape, new PixelPoint(57.2, 64), 12)!.Value.Place.X, 55.8, 56.2);
        Assert.InRange(EdgeSnap.At(tape, new PixelPoint(70.8, 64), 12)!.Value.Place.X, 71.8, 72.2);
        Assert.Null(EdgeSnap.At(tape, new PixelPoint(64, 64), 12));
    }

    [Fact]
    public void A_plain_surface_a_corner_and_the_rim_of_the_picture_draw_nothing()
    {
        var plain = Picture(new Random(2), 3, (_, _) => 90);
        var corner = Picture(new Random(3), 1, (x, y) => 60 + (100 * Normal.CDF(64, 0.8, x) * Normal.CDF(64, 0.8, y)));

        Assert.Null(EdgeSnap.At(plain, new PixelPoint(64, 64), 12));
        Assert.Null(EdgeSnap.At(corner, new PixelPoint(64, 64), 12));
        Assert.Null(EdgeSnap.At(plain, new PixelPoint(0, 0), 12));
        Assert.Null(EdgeSnap.At(plain, new PixelPoint(128, 128), 12));
    }

    private static MemoryPhoto Picture(Random random, double noise, Func<double, double, double> level)
    {
        var size = new PixelSize(128, 128);
        var pixels = new byte[size.Count * 3];
        for (var i = 0; i < size.Count; i++)
        {
            var grey = level((i % size.Width) + 0.5, (i / size.Width) + 0.5);
            for (var c = 0; c < 3; c++)
            {
                pixels[(3 * i) + c] = (byte)Math.Clamp(Math.Round(grey + Normal.Sample(random, 0, noise)), 0, 255);
            }
        }

        return new(new RgbImage(size, pixels));
    }
}
