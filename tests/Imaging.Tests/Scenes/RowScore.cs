using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Rows;

namespace Pairbench.Imaging.Tests.Scenes;

/// <summary>How well a row was found.</summary>
/// <param name="Hits">Stitches found near their middle.</param>
/// <param name="Gaps">Missing stitches that were told as missing, at their place.</param>
public sealed record RowScore(double PitchError, int True, int Hits, int False, int Missing, int Gaps, int FalseGaps, double WanderError, double CvError)
{
    /// <param name="within">How far from its middle a stitch counts as found, in pitches.</param>
    public static RowScore Of(RowScene scene, FoundRow? found, double within = 0.35)
    {
        if (found is null)
        {
            return new RowScore(1, scene.Stitches.Length, 0, 0, scene.Skipped.Length, 0, 0, 1, 1);
        }

        var reach = within * scene.PitchMm / scene.MmPerPx;
        var marks = found.Marks.Select(m => m.Pixel).ToArray();
        var hits = Matched([.. scene.Stitches], marks, reach);
        var gaps = new List<PixelPoint>();
        for (var i = 1; i < marks.Length; i++)
        {
            for (var k = 1; k < found.Marks[i].Before; k++)
            {
                var f = k / (double)found.Marks[i].Before;
                gaps.Add(new PixelPoint(marks[i - 1].X + (f * (marks[i].X - marks[i - 1].X)), marks[i - 1].Y + (f * (marks[i].Y - marks[i - 1].Y))));
            }
        }

        var told = Matched([.. scene.Skipped], [.. gaps], 0.7 * scene.PitchMm / scene.MmPerPx);
        var off = RowPath.Of([.. found.Marks.Select(m => m.Place)]);
        return new RowScore(
            (found.Pitch / scene.PitchMm) - 1,
            scene.Stitches.Length,
            hits,
            marks.Length - hits,
            scene.Skipped.Length,
            told,
            gaps.Count - told,
            Math.Sqrt(off.Off.Sum(o => o * o) / Math.Max(1, off.Off.Length - off.Parameters)) - scene.WanderMm,
            0);
    }

    /// <summary>The scale of a scene: a scan, exact.</summary>
    public static PlaneMapping Scale(RowScene scene) => PlaneMapping.Of(new ScanScale(25.4 / scene.MmPerPx, ScaleUncertaintyPct: 0), "row.png", scene.Picture.Size, CameraFacts.Unknown);

    private static int Matched(List<PixelPoint> truth, PixelPoint[] found, double reach)
    {
        var hits = 0;
        foreach (var place in found)
        {
            var near = truth.Where(t => t.DistanceTo(place) <= reach).OrderBy(t => t.DistanceTo(place)).Select(t => (PixelPoint?)t).FirstOrDefault();
            if (near is { } hit)
            {
                truth.Remove(hit);
                hits++;
            }
        }

        return hits;
    }
}
