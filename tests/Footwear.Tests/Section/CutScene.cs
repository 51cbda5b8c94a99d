using System.Collections.Immutable;
using Pairbench.Footwear.Section;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Footwear.Tests.Section;

/// <summary>A made-up cut of plane layers, scanned at 600 dpi, with blurred edges and grain; the line stands upright, the layers are tilted.</summary>
internal sealed class CutScene : IPhotoSource, IPhotograph
{
    private const double PerMm = 600 / 25.4;
    private const double GroundY = 330;
    private const double X = 160;

    private readonly RgbImage _picture;
    private readonly ImmutableArray<double> _crossings;

    private CutScene(RgbImage picture, ImmutableArray<double> crossings) => (_picture, _crossings) = (picture, crossings);

    public string File => "cut.png";

    public PixelSize Size => _picture.Size;

    public CameraFacts Camera => CameraFacts.Unknown;

    /// <param name="mm">From ground to foot.</param>
    /// <param name="contrast">Grey levels between neighbours.</param>
    public static CutScene Draw(double[] mm, double degrees, int noise, double contrast = 60)
    {
        var size = new PixelSize(320, 400);
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        var depths = mm.Aggregate(new List<double> { 0 }, (all, t) => [.. all, all[^1] + (t * PerMm)]);
        var random = new Random(noise);
        var pixels = new byte[size.Count * 3];
        for (var y = 0; y < size.Height; y++)
        {
            for (var x = 0; x < size.Width; x++)
            {
                // Height above the ground face, square to the layers.
                var height = ((GroundY - (y + 0.5)) * cos) + ((x + 0.5 - X) * sin);
                var grey = 100.0;
                foreach (var (depth, i) in depths.Select((d, i) => (d, i)))
                {
                    var step = i == 0 || i == depths.Count - 1 ? 70 : contrast;
                    grey += (i % 2 == 0 ? 1 : -1) * step / (1 + Math.Exp(-(height - depth) / 0.6));
                }

                for (var c = 0; c < 3; c++)
                {
                    pixels[(3 * ((y * size.Width) + x)) + c] = (byte)Math.Clamp(grey + random.Next(-6, 7), 0, 255);
                }
            }
        }

        return new(new RgbImage(size, pixels), [.. depths.Select(d => d / cos)]);
    }

    /// <param name="click">How far every click is off along the line, pixels.</param>
    public Outcome Examine(double click, bool upsideDown = false)
    {
        var clicks = _crossings.Select(s => ImmutableArray.Create(new PixelPoint(X + 1, GroundY - s + click)));
        var evidence = new SectionEvidence(
            new EvidencePhoto(File, new ScanScale(600, ScaleUncertaintyPct: 0.1)),
            [new(X, GroundY + 30), new(X, 20)],
            [.. upsideDown ? clicks.Reverse() : clicks],
            Layers: [],
            Materials: []);
        return new SectionExamination().Examine(evidence, new Surroundings(this, DataFolder.Catalogue, Subject.Unknown), CancellationToken.None);
    }

    public IPhotograph Open(string file) => this;

    public RgbImage Decode(int longestSide = int.MaxValue) => _picture;

    public RgbImage DecodePart(int left, int top, PixelSize size)
    {
        var part = new byte[size.Count * 3];
        for (var y = 0; y < size.Height; y++)
        {
            _picture.Row(top + y).Slice(3 * left, 3 * size.Width).CopyTo(part.AsSpan(y * size.Width * 3));
        }

        return new(size, part);
    }
}
