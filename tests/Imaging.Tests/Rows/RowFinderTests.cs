using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Rows;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Imaging.Tests.Rows;

public sealed class RowFinderTests
{
    /// <remarks>Thread that stands out from its ground, on canvas, leather and plain stuff; a last stitch far aside, dark thread with two dark spots a stitch. How many of all kinds are found: benchmarks/Seams.</remarks>
    [Theory]
    [InlineData(11)]
    [InlineData(32)]
    [InlineData(48)]
    [InlineData(51)]
    [InlineData(60)]
    [InlineData(30093)]
    [InlineData(30142)]
    public void A_row_is_found_whole(int number)
    {
        var scene = RowSceneGenerator.Make(number);
        var found = RowFinder.Find(scene.Picture, RowScore.Scale(scene), scene.Path);
        var score = RowScore.Of(scene, found);
        Assert.True(score.Hits == score.True && score.False == 0 && score.Gaps == score.Missing && score.FalseGaps == 0, $"{scene.Kind}: {score}");
        Assert.Equal(0, score.PitchError, 0.006);
        Assert.True(Math.Abs(score.WanderError) < 0.12, $"{scene.Kind}: {score}");
    }

    [Fact]
    public void Rows_of_the_tone_of_their_ground_are_found()
    {
        var scores = Enumerable.Range(100, 12).Select(RowSceneGenerator.Make).Where(s => s.Kind.Contains("tone on tone", StringComparison.Ordinal))
            .Take(2).Select(s => RowScore.Of(s, RowFinder.Find(s.Picture, RowScore.Scale(s), s.Path))).ToArray();
        Assert.Equal(2, scores.Length);
        Assert.InRange(scores.Sum(s => s.Hits) / (double)scores.Sum(s => s.True), 0.98, 1);
        Assert.InRange(scores.Sum(s => s.False) / (double)scores.Sum(s => s.True), 0, 0.01);
        Assert.All(scores, s => Assert.InRange(Math.Abs(s.PitchError), 0, 0.02));
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
