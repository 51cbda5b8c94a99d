using Pairbench.Imaging.Rows;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Benchmarks.Seams;

/// <summary>What is seen at each place of rows that were found, with its truth, as lines of numbers: by them the weights of a judged place are fitted.</summary>
internal static class Places
{
    public static void Write(int from, int to)
    {
        Console.WriteLine("number,pitch,is_end,is_mark,truth,seen,alike,explained,off_along,seen_along");
        for (var number = from; number < to; number++)
        {
            var scene = RowSceneGenerator.Make(number);
            var map = RowScore.Scale(scene);
            if (RowFinder.Unjudged(scene.Picture, map, scene.Path, null) is not { } found)
            {
                continue;
            }

            var guide = RowFinder.Guide(map, scene.Path);
            var peaks = RowSight.Of(new PicturePlanes(scene.Picture, map), guide).Peaks(guide.Length);
            var reach = 0.35 * scene.PitchMm / scene.MmPerPx;
            var truth = scene.Stitches.Select(s => Lessons.On(guide, map.ToPlane(s)).Along).ToArray();
            for (var i = 0; i < found.Places.Length; i++)
            {
                var place = found.Places[i];
                var mark = place.Place;
                var (isThere, isSkipped) = (scene.Stitches.Any(s => s.DistanceTo(mark.Pixel) <= reach), scene.Skipped.Any(s => s.DistanceTo(mark.Pixel) <= 1.2 * reach));
                var near = truth.MinBy(t => Math.Abs(t - mark.Along));
                var peak = peaks.Where(p => Math.Abs(p.Along - mark.Along) < 0.25 * found.Row.Pitch && Math.Abs(p.Across - mark.Across) < 0.5).OrderByDescending(p => p.LogOdds).Select(p => p.Along - near).FirstOrDefault(double.NaN);
                Console.WriteLine($"{number},{scene.PitchMm:0.00},{(i == 0 || i == found.Places.Length - 1 ? 1 : 0)},{(place.IsMark ? 1 : 0)},{(isThere ? 1 : isSkipped ? 0 : -1)},{place.Seen:0.000},{place.Alike:0.000},{found.Row.Explained:0.00},{mark.Along - near:0.000},{peak:0.000}");
            }
        }
    }
}
