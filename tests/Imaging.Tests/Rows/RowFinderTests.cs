using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Rows;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Imaging.Tests.Rows;

public sealed class RowFinderTests
{
    private const int Rows = 24;

    /// <remarks>Numbers from 5000 on: none of them was looked at while the finder was made. More of them, and each that is wrong: benchmarks/Seams.</remarks>
    [Fact]
    public void Rows_of_stitches_are_found_whole()
    {
        var scores = Enumerable.Range(5000, Rows).AsParallel().Select(number =>
        {
            var scene = RowSceneGenerator.Make(number);
            return RowScore.Of(scene, RowFinder.Find(scene.Picture, RowScore.Scale(scene), scene.Path));
        }).ToArray();

        double hits = scores.Sum(s => s.Hits), gaps = scores.Sum(s => s.Gaps);
        var found = hits / scores.Sum(s => s.True);
        var wrong = scores.Sum(s => s.False) / (hits + scores.Sum(s => s.False));
        var f1 = 2 * gaps / (scores.Sum(s => s.Missing) + gaps + scores.Sum(s => s.FalseGaps));
        var pitch = scores.Count(s => Math.Abs(s.PitchError) <= 0.005);
        var words = $"found {found:0.0000}, false {wrong:0.0000}, missing F1 {f1:0.000}, pitch {pitch} of {Rows}, wander {Math.Sqrt(scores.Average(s => s.WanderError * s.WanderError)):0.000}";
        Assert.True(found >= 0.93 && wrong <= 0.05 && pitch >= 0.85 * Rows, words);
    }

    [Fact]
    public void Nothing_is_found_where_nothing_repeats()
    {
        var random = new Random(4);
        var size = new PixelSize(700, 200);
        var pixels = new byte[size.Count * 3];
        for (var i = 0; i < pixels.Length; i++)
        {
            pixels[i] = (byte)(120 + random.Next(-6, 7));
        }

        var picture = new RgbImage(size, pixels);
        var scale = PlaneMapping.Of(new ScanScale(254), "plain.png", picture.Size, CameraFacts.Unknown);
        var found = RowFinder.Find(picture, scale, [new(50, 100), new(650, 100)]);
        Assert.True(found is null || found.Explained < 0.06, $"explained {found?.Explained}");
    }
}
