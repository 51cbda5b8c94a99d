using Pairbench.Imaging.Networks;
using Pairbench.Imaging.Regions;

namespace Pairbench.Imaging.Tests.Networks;

/// <summary>Coarse levels that fell silent in teaching leave a network that judges each place by its near surroundings alone, and nothing else tells so.</summary>
public sealed class TaughtNetworkTests
{
    private const int Width = 96;
    private const int Height = 32;

    [Theory]
    [InlineData("picture", 56, 0)]
    [InlineData("contact", 23, SurfaceSight.Steady)]
    [InlineData("material", 17, SurfaceSight.Steady)]
    public void What_lies_far_away_is_seen(string which, int inputs, int steady)
    {
        var network = which switch { "picture" => SurfaceNetwork.Picture, "contact" => SurfaceNetwork.Contact, _ => SurfaceNetwork.Material };
        var random = new Random(20261126);
        Plane[] one = [.. Enumerable.Range(0, inputs).Select(_ => new Plane(Width, Height, [.. Enumerable.Range(0, Width * Height).Select(_ => (float)((2 * random.NextDouble()) - 1))]))];
        // Brighter from column 34 on: two levels see some 9 columns, three some 17, all of them at least 37.
        Plane[] other = [.. one.Select(p => new Plane(Width, Height, [.. p.Values.Select((v, i) => i % Width < 34 ? v : v + 1)]))];

        var (a, b) = (Run(network, one, steady), Run(network, other, steady));

        var near = a.Zip(b).SelectMany(p => Enumerable.Range(0, Height).Select(y => Math.Abs(p.First[8, y] - p.Second[8, y]))).Max();
        Assert.True(near > 1e-3, $"what lies 26 places away changes the answer by {near}");
    }

    private static Plane[] Run(UNet network, Plane[] inputs, int steady)
    {
        if (steady == 0)
        {
            return network.Run(inputs);
        }

        using var begun = network.Begin(inputs[..steady]);
        return network.Run(begun, inputs[steady..]);
    }
}
