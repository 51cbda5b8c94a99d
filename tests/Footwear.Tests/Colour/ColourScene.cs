using Pairbench.Imaging;
using Pairbench.Imaging.Colour;

namespace Pairbench.Footwear.Tests.Colour;

/// <summary>A made-up photograph of flat colours under light that falls off, with noise that goes together over neighbouring pixels.</summary>
internal sealed class ColourScene
{
    private readonly Random _random;
    private readonly List<(double X, double Y, double W, double H, Lab Colour)> _rects = [];

    public ColourScene(int number, PixelSize size)
    {
        _random = new Random(number);
        Size = size;
    }

    public PixelSize Size { get; }

    /// <summary>Relative light at a place; 1 for even light.</summary>
    public Func<double, double, double> Light { get; init; } = (_, _) => 1;

    /// <summary>What the lamp's colour does to each channel.</summary>
    public LinearRgb Lamp { get; init; } = new(1, 1, 1);

    /// <summary>Standard deviation of the noise in 8-bit levels.</summary>
    public double Noise { get; init; } = 1.5;

    public ColourScene Add(double x, double y, double w, double h, Lab colour)
    {
        _rects.Add((x, y, w, h, colour));
        return this;
    }

    public double Normal() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());

    public RgbImage Picture()
    {
        var pixels = new byte[Size.Count * 3];
        var grain = Grain();
        for (var y = 0; y < Size.Height; y++)
        {
            for (var x = 0; x < Size.Width; x++)
            {
                var colour = new Lab(72, 1, 4);
                foreach (var r in _rects.Where(r => x + 0.5 >= r.X && y + 0.5 >= r.Y && x + 0.5 < r.X + r.W && y + 0.5 < r.Y + r.H))
                {
                    colour = r.Colour;
                }

                var light = Light(x + 0.5, y + 0.5);
                var seen = Srgb.FromLab(colour) * Lamp * new LinearRgb(light, light, light);
                double[] rgb = [seen.Red, seen.Green, seen.Blue];
                for (var c = 0; c < 3; c++)
                {
                    var at = (((y * Size.Width) + x) * 3) + c;
                    pixels[at] = (byte)Math.Clamp(Math.Floor((255 * Srgb.FromLinear(rgb[c])) + grain[at] + 0.5), 0, 255);
                }
            }
        }

        return new RgbImage(Size, pixels);
    }

    /// <summary>White noise mixed with its mean over 3 by 3 pixels, as demosaicing does.</summary>
    private double[] Grain()
    {
        if (Noise == 0)
        {
            return new double[Size.Count * 3];
        }

        var white = new double[Size.Count * 3];
        for (var i = 0; i < white.Length; i++)
        {
            white[i] = Normal();
        }

        var grain = new double[white.Length];
        var stride = Size.Width * 3;
        for (var i = stride + 3; i < white.Length - stride - 3; i++)
        {
            var sum = 0.0;
            for (var dy = -stride; dy <= stride; dy += stride)
            {
                sum += white[i + dy - 3] + white[i + dy] + white[i + dy + 3];
            }

            // Nine of variance one make a sum of deviation three.
            grain[i] = Noise * ((0.6 * white[i]) + (0.8 * sum / 3)) / Math.Sqrt(0.36 + 0.64 + (2 * 0.6 * 0.8 / 3));
        }

        return grain;
    }
}
