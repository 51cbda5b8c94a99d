using System.Collections.Immutable;
using Pairbench.Footwear.Seams;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Rows;

namespace Pairbench.Footwear.Tests.Seams;

/// <summary>Rows of stitches whose places are made up, as if they had been found.</summary>
internal static class MadeRow
{
    /// <summary>0.1 mm a pixel, exact.</summary>
    public static PlaneMapping Scale { get; } = PlaneMapping.Of(new ScanScale(254, ScaleUncertaintyPct: 0), "row.png", new PixelSize(1200, 200), CameraFacts.Unknown);

    /// <param name="placing">Standard uncertainty of a stitch's place along and across, mm.</param>
    /// <param name="explained">Share of the strip that the row explains.</param>
    /// <param name="before">Pitches before each stitch; one where it is left out.</param>
    /// <param name="edge">Corners of the panel edge in mm.</param>
    public static MeasuredRow Of(ImmutableArray<PlanePoint> places, double placing, double explained = 0.5, ImmutableArray<int> before = default, params ImmutableArray<PlanePoint> edge)
    {
        ImmutableArray<RowMark> marks = [.. places.Select((p, i) => new RowMark(p.X, p.Y, p, Scale.ToPicture(p), i == 0 ? 0 : before.IsDefault ? 1 : before[i], 1))];
        var row = new RowOf("toe", [marks[0].Pixel, marks[^1].Pixel], [.. edge.Select(Scale.ToPicture)]);
        var pitch = (places[^1].X - places[0].X) / marks.Sum(m => m.Before);
        return new MeasuredRow(row, new FoundRow(pitch, marks, placing, placing, explained, 0.02), Scale, new EvidencePhoto("row.png"), "seams");
    }

    public static double Normal(this Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
