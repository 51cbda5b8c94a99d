using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>
/// Small convolutional networks of the U shape (Ronneberger, Fischer, Brox 2015), taught by made-up and rendered soles only. One looks at the picture alone, one at
/// what the first says together with the dabs.
/// </summary>
internal sealed class SurfaceNetwork
{
    /// <summary>Dimensions of each of the two spaces in which pixels of one kind lie together (Snell, Swersky, Zemel 2017).</summary>
    public const int Dimensions = 8;

    /// <summary>Width and height of the input are multiples of this.</summary>
    public const int Grid = 16;

    private const string Resource = "Pairbench.Imaging.Regions.surface-network.bin";
    private const int LayerCount = 15;
    private static readonly Lazy<(SurfaceNetwork Picture, SurfaceNetwork Dabs)> Taught = new(Load);

    private readonly ImmutableArray<Convolution> _layers;

    private SurfaceNetwork(ImmutableArray<Convolution> layers) => _layers = layers;

    /// <summary>From the planes of <see cref="SurfaceInput"/> to log odds of touching, a space for touching or not and a space for the material.</summary>
    public static SurfaceNetwork Picture => Taught.Value.Picture;

    /// <summary>From the planes of <see cref="ContactJudge"/>, at half the size, to how far picture and dabs are trusted and what is to be added.</summary>
    public static SurfaceNetwork Dabs => Taught.Value.Dabs;

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
    /// Reads the weights of both networks: for each layer the numbers of outputs, inputs and taps along a side as 32-bit integers, then weights and offsets as
    /// half-precision numbers, all little-endian.
    /// </summary>
    internal static (SurfaceNetwork Picture, SurfaceNetwork Dabs) Read(Stream stream)
    {
        using var reader = new BinaryReader(stream);
        return (ReadOne(reader), ReadOne(reader));
    }

    private static SurfaceNetwork ReadOne(BinaryReader reader)
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

        return new SurfaceNetwork(layers.ToImmutable());
    }

    private static (SurfaceNetwork Picture, SurfaceNetwork Dabs) Load()
    {
        using var stream = typeof(SurfaceNetwork).Assembly.GetManifestResourceStream(Resource) ?? throw new InvalidOperationException($"The resource {Resource} is missing from the assembly.");
        return Read(stream);
    }
}
