using System.Collections.Immutable;
using Pairbench.Imaging.Regions;

namespace Pairbench.Imaging.Networks;

/// <summary>A small convolutional network of the U shape (Ronneberger, Fischer, Brox 2015): five levels, each half the size of the one before.</summary>
internal sealed class UNet
{
    /// <summary>Width and height of the input are multiples of this.</summary>
    public const int Grid = 16;

    private const int LayerCount = 15;

    private readonly ImmutableArray<Convolution> _layers;

    private UNet(ImmutableArray<Convolution> layers) => _layers = layers;

    /// <summary>Runs the network.</summary>
    /// <param name="inputs">Planes of equal size, multiples of <see cref="Grid"/>.</param>
    public Plane[] Run(Plane[] inputs)
    {
        var x = PlaneStack.Of(inputs);
        var s1 = _layers[1].Run(_layers[0].Run(x, true), true);
        var s2 = _layers[3].Run(_layers[2].Run(s1.Halved(), true), true);
        var s3 = _layers[5].Run(_layers[4].Run(s2.Halved(), true), true);
        var s4 = _layers[7].Run(_layers[6].Run(s3.Halved(), true), true);
        var s5 = _layers[9].Run(_layers[8].Run(s4.Halved(), true), true);
        var v = _layers[10].Run(s5.DoubledBeside(s4), true);
        v = _layers[11].Run(v.DoubledBeside(s3), true);
        v = _layers[12].Run(v.DoubledBeside(s2), true);
        v = _layers[13].Run(v.DoubledBeside(s1), true);
        return _layers[14].Run(v, false).Planes();
    }

    /// <summary>
    /// Reads the weights of one network: for each layer the numbers of outputs, inputs and taps along a side as 32-bit integers, then weights and offsets as
    /// half-precision numbers, all little-endian.
    /// </summary>
    public static UNet Read(BinaryReader reader)
    {
        var layers = ImmutableArray.CreateBuilder<Convolution>();
        for (var n = 0; n < LayerCount; n++)
        {
            int outputs = reader.ReadInt32(), inputs = reader.ReadInt32(), taps = reader.ReadInt32();
            var weights = new float[outputs * inputs * taps * taps];
            for (var i = 0; i < weights.Length; i++)
            {
                weights[i] = (float)reader.ReadHalf();
            }

            var offsets = new float[outputs];
            for (var i = 0; i < outputs; i++)
            {
                offsets[i] = (float)reader.ReadHalf();
            }

            layers.Add(new Convolution(outputs, inputs, taps, weights, offsets));
        }

        return new UNet(layers.ToImmutable());
    }

    /// <summary>Opens weights that are part of this assembly.</summary>
    /// <param name="resource">Logical name of the resource.</param>
    public static BinaryReader Open(string resource) =>
        new(typeof(UNet).Assembly.GetManifestResourceStream(resource) ?? throw new InvalidOperationException($"The resource {resource} is missing from the assembly."));
}
