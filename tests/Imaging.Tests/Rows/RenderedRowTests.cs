using Pairbench.Imaging.Rows;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Imaging.Tests.Rows;

/// <summary>
/// Rows that a renderer made, seen through a tilted camera: thread wound of strands that goes through holes, with its own shadow, on canvas, leather, suede and mesh in relief
/// (<c>benchmarks/Seams/rendered/render_rows.py</c>). Nothing was taught by such pictures.
/// </summary>
public sealed class RenderedRowTests
{
    /// <summary>Tone on tone, its stitches thinner than the grain of its ground.</summary>
    private const int Worst = 5;

    public static TheoryData<int> Numbers => [.. Directory.EnumerateFiles(Folder, "*.json").Select(f => int.Parse(Path.GetFileNameWithoutExtension(f), System.Globalization.CultureInfo.InvariantCulture)).Order()];

    private static string Folder => Path.Combine(AppContext.BaseDirectory, "Rows", "Rendered");

    [Fact]
    public void There_are_rendered_rows() => Assert.Equal(12, Numbers.Count);

    [Theory]
    [MemberData(nameof(Numbers))]
    public void Every_stitch_is_told_at_its_middle_with_the_pitch_and_the_wander_of_the_row(int number)
    {
        var (scene, map) = RowPicture.Read(Path.Combine(Folder, $"{number:00000}.json"));

        var score = RowScore.Of(scene, RowFinder.Find(scene.Picture, map, scene.Path), within: 0.3);

        // Shadows at one end of each stitch were taken for its middle in two of them: all of their marks lay a third of a pitch off.
        Assert.Equal(score.True, score.Hits);
        Assert.InRange(score.False, 0, 1);
        Assert.InRange(score.PitchError, -0.006, 0.006);
        Assert.InRange(score.WanderError, number == Worst ? -0.15 : -0.08, 0.08);
    }
}
