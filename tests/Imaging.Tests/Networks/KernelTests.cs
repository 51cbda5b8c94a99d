using Pairbench.Imaging.Networks;
using Pairbench.Imaging.Regions;

namespace Pairbench.Imaging.Tests.Networks;

/// <summary>Parts of a layer add up to the layer worked out one tap after the other.</summary>
public sealed class KernelTests
{
    private const int Width = 37;
    private const int Height = 22;

    private readonly Random _random = new(20261126);

    [Fact]
    public void A_layer_is_the_sum_over_its_taps_with_zeros_beyond_the_border()
    {
        var kernel = Drawn(5, 3);
        var inputs = Planes(3, Width, Height);
        Same(ByHand(kernel, inputs), kernel.Whole().Run(PlaneStack.Of(inputs), 1).Planes());
    }

    [Fact]
    public void Some_inputs_on_top_of_the_others_are_the_whole_layer()
    {
        var kernel = Drawn(6, 5);
        var inputs = Planes(5, Width, Height);
        var begun = kernel.Of(0, 2, true).Whole().Run(PlaneStack.Of(inputs[..2]), 1);
        Same(ByHand(kernel, inputs), kernel.Of(2, 3, false).Whole().RunOnto(begun, PlaneStack.Of(inputs[2..]), 1).Planes());
    }

    [Fact]
    public void Two_by_two_taps_serve_a_picture_whose_pixels_were_repeated()
    {
        var kernel = Drawn(4, 3);
        var inputs = Planes(3, Width, Height);
        Plane[] repeated = [.. inputs.Select(p => PlaneSizes.Woven([p, p, p, p]))];
        var parts = kernel.OfRepeated().Select(c => c.Run(PlaneStack.Of(inputs), 1)).ToArray();
        Same(ByHand(kernel, repeated), PlaneStack.Woven(parts).Planes());
    }

    [Fact]
    public void Parts_of_a_plane_weave_into_it_again()
    {
        var plane = Planes(1, 2 * Width, 2 * Height)[0];
        Assert.Equal(plane.Values, PlaneSizes.Woven(plane.Parted()).Values);
        Assert.Equal(plane[4, 7] + plane[5, 7] + plane[4, 6] + plane[5, 6], 4 * plane.Halved()[2, 3], 1e-5);
    }

    private static void Same(Plane[] expected, Plane[] actual)
    {
        Assert.Equal(expected.Length, actual.Length);
        foreach (var (e, a) in expected.Zip(actual))
        {
            Assert.Equal((e.Width, e.Height), (a.Width, a.Height));
            Assert.All(e.Values.Zip(a.Values), p => Assert.Equal(p.First, p.Second, 1e-4));
        }
    }

    private static Plane[] ByHand(Kernel kernel, Plane[] inputs)
    {
        int width = inputs[0].Width, height = inputs[0].Height, reach = kernel.Taps / 2;
        return [.. Enumerable.Range(0, kernel.Outputs).Select(o =>
        {
            var result = new Plane(width, height);
            for (var i = 0; i < result.Values.Length; i++)
            {
                double sum = kernel.Offsets[o];
                for (var t = 0; t < kernel.Inputs * kernel.Taps * kernel.Taps; t++)
                {
                    int c = t / (kernel.Taps * kernel.Taps), x = (i % width) + (t % kernel.Taps) - reach, y = (i / width) + (t / kernel.Taps % kernel.Taps) - reach;
                    sum += x >= 0 && y >= 0 && x < width && y < height ? kernel.Weights[(o * kernel.Inputs * kernel.Taps * kernel.Taps) + t] * inputs[c][x, y] : 0;
                }

                result.Values[i] = (float)sum;
            }

            return result;
        })];
    }

    private Kernel Drawn(int outputs, int inputs) => new(outputs, inputs, 3, Numbers(outputs * inputs * 9), Numbers(outputs));

    private Plane[] Planes(int count, int width, int height) => [.. Enumerable.Range(0, count).Select(_ => new Plane(width, height, Numbers(width * height)))];

    private float[] Numbers(int count) => [.. Enumerable.Range(0, count).Select(_ => (float)((2 * _random.NextDouble()) - 1))];
}
