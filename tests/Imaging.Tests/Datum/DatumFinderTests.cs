using Pairbench.Imaging.Datum;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Tests.Datum;

/// <summary>The sheet and the cards in made-up photographs with fixed seeds; 300 of them in the benchmark.</summary>
public sealed class DatumFinderTests
{
    private static readonly PixelSize Size = new(1200, 900);

    [Fact]
    public void TheSheetIsFoundWithAShoeOnItAndUpToTwoCornersHidden()
    {
        // Every other one without an error of paper and printer.
        const int views = 60;
        var trials = Enumerable.Range(1000, views).Select(seed => (Paper: seed % 2 == 0 ? 0 : 0.3, Seed: seed))
            .Select(t => (t.Paper, Trial: DatumTrial.Of(new DatumScene(t.Seed, SceneKind.Sheet, Size, t.Paper, furthest: 1.15), t.Paper)))
            .Where(t => t.Trial.Found)
            .ToArray();
        var exact = trials.Where(t => t.Paper == 0).Select(t => t.Trial).ToArray();
        var stretched = trials.Where(t => t.Paper > 0).Select(t => t.Trial).ToArray();

        Assert.True(trials.Length >= 0.98 * views, $"found {trials.Length} of {views}");
        Assert.All(exact, t => Assert.InRange(t.LengthErrorMm, -0.1, 0.1));
        Assert.All(exact, t => Assert.InRange(t.CornerRmsPx, 0, 0.15));
        Assert.InRange(stretched.Count(t => t.Covered) / (double)stretched.Length, 0.86, 1);
        Assert.Contains(stretched, t => Math.Abs(t.LengthErrorMm) > 0.2);
    }

    [Fact]
    public void CardsAreFoundWhereverTheyLie()
    {
        foreach (var seed in Enumerable.Range(3000, 4))
        {
            var trial = DatumTrial.Of(new DatumScene(seed, SceneKind.Cards, Size, furthest: 1.1), 0);

            Assert.True(trial.Found, $"seed {seed}: {trial.Words}");
            Assert.InRange(trial.LengthErrorMm, -0.1, 0.1);
            Assert.True(trial.Covered, $"seed {seed}: {trial}");
        }
    }

    /// <remarks>Nothing is stated of the focal length, and it is far from what is supposed, 0.85 of the longer side.</remarks>
    [Theory]
    [InlineData(3101, 1.15)]
    [InlineData(3102, 1.3)]
    [InlineData(3103, 1.4)]
    public void CardsAreFoundThroughALongLens(int seed, double focal)
    {
        var trial = DatumTrial.Of(new DatumScene(seed, SceneKind.Cards, Size, furthest: 1.1, focal: focal), 0);

        Assert.True(trial.Found, trial.Words);
        Assert.True(trial.Covered, $"{trial}");
    }

    [Fact]
    public void NothingIsFoundWhereThereIsNone()
    {
        foreach (var seed in Enumerable.Range(4000, 3))
        {
            var scene = new DatumScene(seed, SceneKind.Nothing, Size);

            Assert.Equal("kind", Assert.Throws<ScaleException>(() => DatumFinder.Find(new SheetScale(), scene.Photo)).Field);
            Assert.Equal("kind", Assert.Throws<ScaleException>(() => DatumFinder.Find(new CardsScale(), scene.Photo)).Field);
        }
    }

    [Fact]
    public void ASheetIsNoCardAndACardNoSheet()
    {
        var sheet = new DatumScene(5001, SceneKind.Sheet, Size);
        var cards = new DatumScene(5002, SceneKind.Cards, Size, furthest: 1.1);

        Assert.Throws<ScaleException>(() => DatumFinder.Find(new CardsScale(), sheet.Photo));
        Assert.Throws<ScaleException>(() => DatumFinder.Find(new SheetScale(), cards.Photo));
        Assert.Equal(4, DatumFinder.Find(new CardsScale(), cards.Photo).Codes.Count(c => c.Seen));
    }

    [Fact]
    public void NeutralPatchesAreWhereTheyWerePrinted()
    {
        var scene = new DatumScene(5004, SceneKind.Sheet, Size);
        var target = scene.Layout.Targets[0];

        var found = DatumFinder.Find(new SheetScale(), scene.Photo);

        Assert.All(found.Neutrals.Zip(target.Neutrals), pair =>
        {
            Assert.Equal(pair.Second.Grey, pair.First.Grey);
            Assert.InRange(pair.First.Corners[0].DistanceTo(scene.Truth(1, new PlanePoint(pair.Second.Place.Left, pair.Second.Place.Top))), 0, 0.5);
        });
    }
}
