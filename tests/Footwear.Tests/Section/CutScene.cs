using System.Collections.Immutable;
using Pairbench.Footwear.Section;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Footwear.Tests.Section;

/// <summary>A made-up cut of plane layers, scanned at 600 dpi, with blurred edges and grain; the line stands upright, the layers are tilted.</summary>
internal sealed class CutScene
{
    private const double PerMm = 600 / 25.4;
    private const double GroundY = 330;
    private const double X = 160;

    private readonly MemoryPhotos _photos;
    private readonly ImmutableArray<double> _crossings;

    private CutScene(RgbImage picture, ImmutableArray<double> crossings) => (_photos, _crossings) = (new MemoryPhotos(new MemoryPhoto(picture, "cut.png")), crossings);

    /// <param name="mm">From ground to foot.</param>
    /// <param name="contrast">Grey levels between neighbours.</param>
    public static CutScene Draw(double[] mm, double degrees, int noise, double contrast = 60)
    {
        var (sin, cos) = Math.SinCos(degrees * Math.PI / 180);
        return Draw(mm, (x, y) => ((GroundY - y) * cos) + ((x - X) * sin), cos, noise, contrast);
    }

    /// <summary>Layers bent about one middle below the ground, as under a toe spring: each is equally thick everywhere.</summary>
    public static CutScene DrawBent(double[] mm, double radiusMm, int noise, double contrast = 60) =>
        Draw(mm, (x, y) => double.Hypot(x - X, GroundY + (radiusMm * PerMm) - y) - (radiusMm * PerMm), 1, noise, contrast);

    /// <summary>Wedges: the height of every boundary above the ground grows by a share of itself for each mm to the right of the middle.</summary>
    public static CutScene DrawWedge(double[] mm, double perMm, int noise) =>
        Draw(mm, (x, y) => (GroundY - y) / (1 + (perMm * (x - X) / PerMm)), 1, noise, 60);

    /// <param name="heightPx">Above the ground face, by the layers' own measure.</param>
    private static CutScene Draw(double[] mm, Func<double, double, double> heightPx, double cos, int noise, double contrast)
    {
        var size = new PixelSize(320, 400);
        var depths = mm.Aggregate(new List<double> { 0 }, (all, t) => [.. all, all[^1] + (t * PerMm)]);
        var random = new Random(noise);
        var pixels = new byte[size.Count * 3];
        for (var y = 0; y < size.Height; y++)
        {
            for (var x = 0; x < size.Width; x++)
            {
                var height = heightPx(x + 0.5, y + 0.5);
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
            new EvidencePhoto("cut.png", new ScanScale(600, ScaleUncertaintyPct: 0.1)),
            [new(X, GroundY + 30), new(X, 20)],
            [.. upsideDown ? clicks.Reverse() : clicks],
            Layers: [],
            Materials: []);
        return new SectionExamination().Examine(evidence, new Surroundings(_photos, DataFolder.Catalogue, Subject.Unknown), CancellationToken.None);
    }

    /// <param name="bounds">By the column of the picture, the height in mm of a boundary at the middle gives its row.</param>
    /// <param name="shake">How far each traced point may be off, pixels.</param>
    public Outcome ExamineTraced(Func<double, double, double> bounds, double[] mm, double shake, int seed, bool turned = false, double columns = 240, int points = 9, double? snapPx = null)
    {
        var random = new Random(seed);
        var heights = mm.Aggregate(new List<double> { 0 }, (all, t) => [.. all, all[^1] + t]);
        var traces = heights.Select(h => Enumerable.Range(0, points).Select(i => X - (columns / 2) + (i * columns / (points - 1))).Select(x => new PixelPoint(x, bounds(x, h) + (shake * ((2 * random.NextDouble()) - 1)))).ToImmutableArray());
        var evidence = new SectionEvidence(
            new EvidencePhoto("cut.png", new ScanScale(600, ScaleUncertaintyPct: 0.1)),
            Line: [],
            Boundaries: [],
            SnapPx: snapPx,
            Layers: [],
            Materials: [],
            Traces: [.. turned ? traces.Reverse() : traces]);
        return new SectionExamination().Examine(evidence, new Surroundings(_photos, DataFolder.Catalogue, Subject.Unknown), CancellationToken.None);
    }

    /// <summary>Row at a column of the boundary at a height of a bent cut, mm.</summary>
    public static double BentRow(double x, double heightMm, double radiusMm) => GroundY + (radiusMm * PerMm) - Math.Sqrt(Math.Pow((radiusMm + heightMm) * PerMm, 2) - ((x - X) * (x - X)));

    /// <summary>Row at a column of the boundary at a height of a wedge, mm.</summary>
    public static double WedgeRow(double x, double heightMm, double perMm) => GroundY - (heightMm * PerMm * (1 + (perMm * (x - X) / PerMm)));
}
