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
    [InlineData(31146)]
    [InlineData(31188)]
    public void A_row_is_found_whole(int number)
    {
        var scene = RowSceneGenerator.Make(number);
        var found = RowFinder.Find(scene.Picture, RowScore.Scale(scene), scene.Path);
        var score = RowScore.Of(scene, found);
        Assert.True(score.Hits == score.True && score.False == 0 && score.Gaps == score.Missing && score.FalseGaps == 0, $"{scene.Kind}: {score}");
        Assert.Equal(0, score.PitchError, 0.006);
        Assert.True(Math.Abs(score.WanderError) < 0.12, $"{scene.Kind}: {score}");
    }

    /// <remarks>
    /// Rows of which the likeliest chain and likeness were at odds: one stitch told twice; likeness a quarter or a third of a pitch out of phase, beside which a wrong pitch seemed likelier; a first and a last stitch
    /// far from where the pitch has them.
    /// </remarks>
    [Theory]
    [InlineData(31079)]
    [InlineData(31130)]
    [InlineData(54080)]
    [InlineData(56045)]
    [InlineData(50021)]
    public void A_row_is_found_whole_where_likeness_and_sight_differ(int number)
    {
        var scene = RowSceneGenerator.Make(number);
        var score = RowScore.Of(scene, RowFinder.Find(scene.Picture, RowScore.Scale(scene), scene.Path));
        Assert.True(score.Hits == score.True && score.False == 0, $"{scene.Kind}: {score}");
        Assert.Equal(0, score.PitchError, 0.005);
    }

    /// <summary>Along a path from one stitch to another, in the midst of a row that goes on at both ends, its stitches count and no others.</summary>
    [Theory]
    [InlineData(72001)]
    [InlineData(72002)]
    [InlineData(72004)]
    [InlineData(72008)]
    [InlineData(72012)]
    public void Stitches_beyond_the_ends_of_a_path_do_not_count(int number)
    {
        var scene = RowSceneGenerator.Make(number);
        var on = scene.Stitches.Skip(4).SkipLast(4).ToArray();
        Assert.InRange(on.Length, 6, 40);
        var found = RowFinder.Find(scene.Picture, RowScore.Scale(scene), [on[0], on[on.Length / 2], on[^1]]);
        Assert.NotNull(found);
        Assert.Equal(on.Length, found.Marks.Length);
        Assert.All([(found.Marks[0], on[0]), (found.Marks[^1], on[^1])], e => Assert.InRange(e.Item1.Pixel.DistanceTo(e.Item2) * scene.MmPerPx, 0, 0.35 * scene.PitchMm));
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

    /// <remarks>
    /// Thread of the tone of its ground on leather, in which likeness alone followed the grain at 0.6, 0.3 and 0.3 of the pitch, with 20 to 33 stitches that are none. Where thread is
    /// seen the row is found; where less of it is seen fewer stitches are, and none beside them; where none is seen no row is told.
    /// </remarks>
    [Theory]
    [InlineData(30001, 0.8, 3)]
    [InlineData(30111, 0.8, 3)]
    [InlineData(30060, 0.6, 0)]
    public void Where_no_row_stands_out_thread_must_be_seen(int number, double found, int mostFalse)
    {
        var scene = RowSceneGenerator.Make(number);
        var score = RowScore.Of(scene, RowFinder.Find(scene.Picture, RowScore.Scale(scene), scene.Path));
        Assert.True(score.Hits >= found * score.True && score.False <= mostFalse, $"{score}");
    }

    [Fact]
    public void Where_no_thread_is_seen_no_row_is_told()
    {
        var scene = RowSceneGenerator.Make(52073);
        Assert.Null(RowFinder.Find(scene.Picture, RowScore.Scale(scene), scene.Path));
    }

    /// <remarks>Places between needle holes: thread of the tone of its ground on leather that was not found before, with a skipped stitch and without.</remarks>
    [Theory]
    [InlineData(53045)]
    [InlineData(53049)]
    public void Skipped_stitches_are_told_and_no_others(int number)
    {
        var scene = RowSceneGenerator.Make(number);
        var score = RowScore.Of(scene, RowFinder.Find(scene.Picture, RowScore.Scale(scene), scene.Path));
        Assert.True(score.Hits == score.True && score.Gaps == score.Missing && score.FalseGaps == 0, $"{scene.Kind}: {score}");
    }

    /// <param name="grain">Radius over which grain is even, in pixels of 0.1 mm; none for noise alone.</param>
    [Theory]
    [InlineData(0, 4)]
    [InlineData(1, 4)]
    [InlineData(1, 13)]
    [InlineData(3, 4)]
    [InlineData(6, 4)]
    [InlineData(6, 5)]
    public void Nothing_is_found_where_there_is_no_row(int grain, int seed)
    {
        var random = new Random(seed);
        var size = new PixelSize(700, 200);
        var levels = Enumerable.Range(0, size.Width * size.Height).Select(_ => random.NextDouble() - 0.5).ToArray();
        for (var pass = 0; pass < 2; pass++)
        {
            levels = [.. levels.Select((_, i) => Enumerable.Range(-grain, (2 * grain) + 1).Average(d => levels[(i + (d * (pass == 0 ? 1 : size.Width)) + levels.Length) % levels.Length]))];
        }

        var strength = 6 / Math.Sqrt(levels.Average(l => l * l));
        var picture = new RgbImage(size, [.. levels.SelectMany(l => Enumerable.Repeat((byte)Math.Clamp(120 + (strength * l) + random.Next(-2, 3), 0, 255), 3))]);
        var scale = PlaneMapping.Of(new ScanScale(254), "plain.png", picture.Size, CameraFacts.Unknown);
        Assert.Null(RowFinder.Find(picture, scale, [new(50, 100), new(650, 100)]));
    }
}
