using System.Collections.Immutable;
using Pairbench.Imaging.Regions;

namespace Pairbench.Imaging.Networks;

/// <summary>A small convolutional network of the U shape (Ronneberger, Fischer, Brox 2015): levels, each half the size of the one before.</summary>
internal sealed class UNet
{
    private const float Linear = 1;

    private readonly float _slope;
    private readonly Convolution _first;
    private readonly Convolution _firstOfSteady;
    private readonly ImmutableArray<Convolution> _down;
    private readonly ImmutableArray<(Convolution[] OfCoarser, Convolution OfFiner)> _up;
    private readonly Convolution _last;

    private UNet(ImmutableArray<Kernel> layers, int levels, int steady, float slope)
    {
        _slope = slope;
        // Two layers a level on the way down, one a level on the way up, and the last.
        var first = layers[0];
        _firstOfSteady = first.Of(0, steady, true).Whole();
        _first = first.Of(steady, first.Inputs - steady, steady == 0).Whole();
        _down = [.. layers[1..(2 * levels)].Select(k => k.Whole())];
        _up = [.. layers[(2 * levels)..^1].Select((k, n) =>
        {
            var coarser = layers[(2 * levels) - 1 + n].Outputs;
            return (k.Of(0, coarser, true).OfRepeated(), k.Of(coarser, k.Inputs - coarser, false).Whole());
        })];
        _last = layers[^1].Whole();
    }

    /// <summary>Width and height of the input are multiples of this, so that every level halves the one before without a rest.</summary>
    public int Grid => 1 << _up.Length;

    /// <summary>What the first layer makes of the inputs that stay the same from run to run.</summary>
    public PlaneStack Begin(Plane[] steady)
    {
        using var x = PlaneStack.Of(steady);
        return _firstOfSteady.Run(x, Linear);
    }

    /// <summary>Runs the network where some inputs stay the same.</summary>
    /// <param name="begun">What <see cref="Begin"/> gave.</param>
    /// <param name="inputs">The others.</param>
    public Plane[] Run(PlaneStack begun, Plane[] inputs)
    {
        using var x = PlaneStack.Of(inputs);
        return Through(_first.RunOnto(begun, x, _slope));
    }

    /// <summary>Runs the network.</summary>
    /// <param name="inputs">Planes of equal size, multiples of <see cref="Grid"/>.</param>
    public Plane[] Run(Plane[] inputs)
    {
        using var x = PlaneStack.Of(inputs);
        return Through(_first.Run(x, _slope));
    }

    /// <summary>What follows the first layer; each stack is given back once it has been used.</summary>
    private Plane[] Through(PlaneStack first)
    {
        var beside = new Stack<PlaneStack>();
        var x = _down[0].Run(first, _slope);
        first.Dispose();
        for (var layer = 1; layer < _down.Length; layer += 2)
        {
            beside.Push(x);
            using var halved = x.Halved();
            using var between = _down[layer].Run(halved, _slope);
            x = _down[layer + 1].Run(between, _slope);
        }

        foreach (var (ofCoarser, ofFiner) in _up)
        {
            using var coarser = x;
            using var finer = beside.Pop();
            PlaneStack[] parts = [.. ofCoarser.Select(c => c.Run(coarser, Linear))];
            using var woven = PlaneStack.Woven(parts);
            x = ofFiner.RunOnto(woven, finer, _slope);
            foreach (var part in parts)
            {
                part.Dispose();
            }
        }

        using var last = _last.Run(x, Linear);
        x.Dispose();
        return last.Planes();
    }

    /// <summary>Reads the weights of one network, layer by layer as <see cref="Kernel.Read"/> takes them.</summary>
    /// <param name="levels">How many sizes the network looks at.</param>
    /// <param name="slope">What values below zero are multiplied by between layers, 0 to 1 (Maas, Hannun, Ng 2013).</param>
    /// <param name="steady">How many of the inputs, the first ones, stay the same from run to run.</param>
    public static UNet Read(BinaryReader reader, int levels, float slope = 0, int steady = 0) =>
        new([.. Enumerable.Range(0, 3 * levels).Select(_ => Kernel.Read(reader))], levels, steady, slope);

    /// <summary>Opens weights that are part of this assembly.</summary>
    /// <param name="resource">Logical name of the resource.</param>
    public static BinaryReader Open(string resource) =>
        new(typeof(UNet).Assembly.GetManifestResourceStream(resource) ?? throw new InvalidOperationException($"The resource {resource} is missing from the assembly."));
}
