using System.Collections.Immutable;
using System.Runtime.Intrinsics;

namespace Pairbench.Imaging.Regions;

/// <summary>
/// A small convolutional network of the U shape (Ronneberger, Fischer, Brox 2015) that says for every pixel how likely it stands proud of the grooves,
/// and where it lies in two spaces in which pixels of one kind lie together (Snell, Swersky, Zemel 2017): one for touching or not, one for the material.
/// It is taught by made-up soles only; the dabs of the picture at hand then say which place of the spaces is what.
/// </summary>
internal sealed class SurfaceNetwork
{
    /// <summary>Dimensions of each of the two spaces.</summary>
    public const int Dimensions = 8;

    /// <summary>Width and height of the input are multiples of this.</summary>
    public const int Grid = 16;

    private const string Resource = "Pairbench.Imaging.Regions.surface-network.bin";
    private static readonly Lazy<SurfaceNetwork> Taught = new(Load);

    private readonly ImmutableArray<Layer> _layers;

    private SurfaceNetwork(ImmutableArray<Layer> layers) => _layers = layers;

    /// <summary>The network with the weights that come with the program.</summary>
    public static SurfaceNetwork Default => Taught.Value;

    /// <summary>Runs the network.</summary>
    /// <param name="inputs">Planes of equal size, multiples of <see cref="Grid"/>.</param>
    /// <returns>Log odds of touching, then both spaces.</returns>
    public Plane[] Run(Plane[] inputs)
    {
        var x = Stack.Of(inputs);
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

    /// <summary>Reads weights: for each layer the numbers of outputs, inputs and taps along a side as 32-bit integers, then weights and offsets as half-precision numbers, all little-endian.</summary>
    internal static SurfaceNetwork Read(Stream stream)
    {
        using var reader = new BinaryReader(stream);
        var layers = ImmutableArray.CreateBuilder<Layer>();
        for (var n = 0; n < 15; n++)
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

            layers.Add(new Layer(outputs, inputs, taps, weights, offsets));
        }

        return new SurfaceNetwork(layers.ToImmutable());
    }

    private static SurfaceNetwork Load()
    {
        using var stream = typeof(SurfaceNetwork).Assembly.GetManifestResourceStream(Resource) ?? throw new InvalidOperationException($"The resource {Resource} is missing from the assembly.");
        return Read(stream);
    }

    /// <summary>Planes with a border of one zero all round, rows a multiple of eight apart so that whole vectors can be read.</summary>
    private sealed class Stack(int channels, int width, int height)
    {
        public int Channels { get; } = channels;

        public int Width { get; } = width;

        public int Height { get; } = height;

        public int Stride { get; } = ((width + 7) / 8 * 8) + 16;

        public int Size => Stride * (Height + 2);

        public float[] Values { get; } = new float[channels * (((width + 7) / 8 * 8) + 16) * (height + 2)];

        /// <summary>Index of a pixel; its left neighbour may lie in the border.</summary>
        public int At(int channel, int x, int y) => (channel * Size) + ((y + 1) * Stride) + x + 1;

        public static Stack Of(Plane[] planes)
        {
            var stack = new Stack(planes.Length, planes[0].Width, planes[0].Height);
            for (var c = 0; c < planes.Length; c++)
            {
                for (var y = 0; y < stack.Height; y++)
                {
                    planes[c].Values.AsSpan(y * stack.Width, stack.Width).CopyTo(stack.Values.AsSpan(stack.At(c, 0, y)));
                }
            }

            return stack;
        }

        public Plane[] Planes()
        {
            var planes = new Plane[Channels];
            for (var c = 0; c < Channels; c++)
            {
                planes[c] = new Plane(Width, Height);
                for (var y = 0; y < Height; y++)
                {
                    Values.AsSpan(At(c, 0, y), Width).CopyTo(planes[c].Values.AsSpan(y * Width));
                }
            }

            return planes;
        }

        public Stack Halved()
        {
            var result = new Stack(Channels, Width / 2, Height / 2);
            Parallel.For(0, Channels, c =>
            {
                for (var y = 0; y < result.Height; y++)
                {
                    int a = At(c, 0, 2 * y), b = At(c, 0, (2 * y) + 1), o = result.At(c, 0, y);
                    for (var x = 0; x < result.Width; x++)
                    {
                        result.Values[o + x] = 0.25f * (Values[a + (2 * x)] + Values[a + (2 * x) + 1] + Values[b + (2 * x)] + Values[b + (2 * x) + 1]);
                    }
                }
            });
            return result;
        }

        /// <summary>This one at twice its size, followed by the channels of <paramref name="beside"/>.</summary>
        public Stack DoubledBeside(Stack beside)
        {
            var result = new Stack(Channels + beside.Channels, beside.Width, beside.Height);
            Parallel.For(0, result.Channels, c =>
            {
                for (var y = 0; y < result.Height; y++)
                {
                    var o = result.At(c, 0, y);
                    if (c >= Channels)
                    {
                        beside.Values.AsSpan(beside.At(c - Channels, 0, y), result.Width).CopyTo(result.Values.AsSpan(o));
                        continue;
                    }

                    var a = At(c, 0, y / 2);
                    for (var x = 0; x < result.Width; x++)
                    {
                        result.Values[o + x] = Values[a + (x / 2)];
                    }
                }
            });
            return result;
        }

        public void Store(int channel, int x, int y, Vector256<float> value, bool positive)
        {
            value = positive ? Vector256.Max(value, Vector256<float>.Zero) : value;
            var at = At(channel, x, y);
            if (x + 8 <= Width)
            {
                value.CopyTo(Values, at);
                return;
            }

            for (var i = 0; x + i < Width; i++)
            {
                Values[at + i] = value[i];
            }
        }
    }

    private sealed class Layer(int outputs, int inputs, int taps, float[] weights, float[] offsets)
    {
        public Stack Run(Stack source, bool positive)
        {
            if (source.Channels != inputs)
            {
                throw new InvalidOperationException($"A layer for {inputs} planes got {source.Channels}.");
            }

            var result = new Stack(outputs, source.Width, source.Height);
            Parallel.For(0, source.Height, y =>
            {
                for (var o = 0; o < outputs; o += 4)
                {
                    Row(source, result, y, o, positive);
                }
            });
            return result;
        }

        private void Row(Stack source, Stack result, int y, int first, bool positive)
        {
            var span = taps * taps;
            int w0 = first * inputs * span, more = Math.Min(4, outputs - first) - 1, next = inputs * span;
            int w1 = w0 + (Math.Min(1, more) * next), w2 = w0 + (Math.Min(2, more) * next), w3 = w0 + (Math.Min(3, more) * next);
            var reach = taps / 2;
            var values = source.Values;
            for (var x = 0; x < source.Width; x += 8)
            {
                var a0 = Vector256.Create(offsets[first]);
                var a1 = Vector256.Create(offsets[first + Math.Min(1, more)]);
                var a2 = Vector256.Create(offsets[first + Math.Min(2, more)]);
                var a3 = Vector256.Create(offsets[first + Math.Min(3, more)]);
                var k = 0;
                for (var c = 0; c < inputs; c++)
                {
                    for (var j = -reach; j <= reach; j++)
                    {
                        var at = source.At(c, x, y + j) - reach;
                        for (var i = 0; i < taps; i++, k++)
                        {
                            var v = Vector256.LoadUnsafe(ref values[at + i]);
                            a0 = Vector256.FusedMultiplyAdd(v, Vector256.Create(weights[w0 + k]), a0);
                            a1 = Vector256.FusedMultiplyAdd(v, Vector256.Create(weights[w1 + k]), a1);
                            a2 = Vector256.FusedMultiplyAdd(v, Vector256.Create(weights[w2 + k]), a2);
                            a3 = Vector256.FusedMultiplyAdd(v, Vector256.Create(weights[w3 + k]), a3);
                        }
                    }
                }

                result.Store(first, x, y, a0, positive);
                if (more >= 1)
                {
                    result.Store(first + 1, x, y, a1, positive);
                }

                if (more >= 2)
                {
                    result.Store(first + 2, x, y, a2, positive);
                }

                if (more >= 3)
                {
                    result.Store(first + 3, x, y, a3, positive);
                }
            }
        }
    }
}
