using System.Text.Json.Nodes;
using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Hosting;
using Pairbench.Bench.Photographs;
using Pairbench.Bench.Sheets;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

public sealed class PhotographTests : BunitContext
{
    private static CancellationToken Cancel => TemporaryShelf.Cancel;

    [Fact]
    public async Task A_picture_that_is_taken_off_leaves_the_review_and_comes_back_by_undo()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var sheet = await SheetAsync(temporary.Shelf, """ "photos": [ { "file": "private.jpg" }, { "file": "sole.jpg" } ], """, "private.jpg", "sole.jpg");

        sheet.TakeOff(ReviewSheet.Photographs, "private.jpg");
        await SavedAsync(sheet);

        Assert.Equal(["sole.jpg"], await NamesAsync(temporary.Shelf, sheet));
        Assert.Equal("sole.jpg", sheet.Text("photos/0/file"));
        Assert.Empty(sheet.Unlisted);

        sheet.Undo();
        Assert.NotNull(sheet.File("private.jpg"));
        await SavedAsync(sheet);

        Assert.Equal(["private.jpg", "sole.jpg"], await NamesAsync(temporary.Shelf, sheet));
        Assert.Equal("private.jpg", sheet.Text("photos/0/file"));
    }

    [Fact]
    public async Task Another_picture_of_the_same_name_is_examined_and_not_the_one_before()
    {
        const string Patches = """
            { "photo": { "file": "pasted.png" }, "neutral": { "rect": [10, 10, 40, 20] },
              "patches": [{ "id": "left", "rect": [10, 40, 40, 40] }, { "id": "right", "rect": [70, 40, 40, 40] }], "pairs": [["left", "right"]] }
            """;
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var sheet = await SheetAsync(temporary.Shelf, "");
        double? Difference() => sheet is { IsExamining: false } ? sheet.OutcomeOf("colour", "main")?.Figures.Single(f => f.Id == "left..right.delta-e00").Measured.Value : null;
        async Task PasteAsync(byte right)
        {
            Assert.Equal("pasted.png", (await temporary.Shelf.AttachAsync(sheet.Id, "pasted.png", new MemoryStream(TwoGreys(120, right)), Cancel)).Name);
            await sheet.AddPhotoAsync("pasted.png");
            sheet.AddEntry("colour", "main", JsonNode.Parse(Patches)!.AsObject());
            await Until.Holds(() => Difference() is not null, () => string.Join("; ", sheet.Faults));
        }

        await PasteAsync(180);
        var first = Difference();

        // Something else between, so that the marks and their going are two steps of Undo.
        sheet.Put("style/category", "leisure");
        sheet.Put("evidence/colour", null);
        sheet.TakeOff(ReviewSheet.Photographs, "pasted.png");
        await SavedAsync(sheet);
        Assert.Empty(await NamesAsync(temporary.Shelf, sheet));

        await PasteAsync(128);

        Assert.True(Difference() < first / 2, $"{first}, then {Difference()}");
        await SavedAsync(sheet);

        // Undo takes back the second; the marks of the first, of which nothing else tells, do not come back on it.
        while (sheet.CanUndo)
        {
            sheet.Undo();
            Assert.Null(sheet.At("evidence/colour"));
        }

        await SavedAsync(sheet);
    }

    [Fact]
    public async Task An_attachment_that_is_taken_off_leaves_the_review_too()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var sheet = await SheetAsync(temporary.Shelf, """ "attachments": [ { "file": "report.jpg" } ], """, "report.jpg");

        sheet.TakeOff(ReviewSheet.Attachments, "report.jpg");
        await SavedAsync(sheet);

        Assert.Empty(await NamesAsync(temporary.Shelf, sheet));
    }

    [Fact]
    public async Task A_picture_that_evidence_shows_stays_and_is_told_until_nothing_names_it()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var sheet = await SheetAsync(temporary.Shelf, """ "photos": [ { "file": "sole.jpg" } ], "evidence": { "underfoot": [ { "id": "left", "photo": { "file": "sole.jpg" } } ] }, """, "sole.jpg", "left-over.jpg");

        sheet.TakeOff(ReviewSheet.Photographs, "sole.jpg");
        await SavedAsync(sheet);

        Assert.Equal([new UnlistedFile("left-over.jpg", false), new UnlistedFile("sole.jpg", true)], sheet.Unlisted);
        Assert.False(await sheet.TakeOutAsync("sole.jpg"));
        Assert.True(await sheet.TakeOutAsync("left-over.jpg"));
        Assert.Equal(["sole.jpg"], await NamesAsync(temporary.Shelf, sheet));

        sheet.Put("evidence/underfoot", null);
        await SavedAsync(sheet);
        Assert.Empty(await NamesAsync(temporary.Shelf, sheet));
    }

    [Fact]
    public async Task What_somebody_else_took_off_comes_back_with_the_document_that_is_saved_over_theirs()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var mine = await SheetAsync(temporary.Shelf, """ "photos": [ { "file": "sole.jpg" } ], """, "sole.jpg");
        using var theirs = (await Sheets(temporary.Shelf).OpenAsync(mine.Id))!;
        theirs.TakeOff(ReviewSheet.Photographs, "sole.jpg");
        await SavedAsync(theirs);
        Assert.Empty(await NamesAsync(temporary.Shelf, mine));

        mine.Put("pair/size", "42");
        await StateAsync<SaveState.Conflict>(mine);
        mine.KeepMine();
        await SavedAsync(mine);

        Assert.Equal(["sole.jpg"], await NamesAsync(temporary.Shelf, mine));
    }

    [Fact]
    public async Task A_decided_review_takes_no_picture_and_the_picture_may_be_taken_later()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var camera = new Camera();
        using var sheet = await SheetAsync(temporary.Shelf, """ "decision": { "taken": "pass", "by": "A. Nyman", "on": "2026-11-26", "reason": "made up" }, """);
        var watched = new WatchedFolder(camera.Options, temporary.Shelf, TimeProvider.System);

        var refusal = await Assert.ThrowsAsync<NotKeptException>(() => watched.TakeAsync(sheet.Id, Camera.Picture, Cancel));

        Assert.Equal($"{Camera.Picture}: was not added: the review is decided; open it again at Decide, then add the picture", refusal.Message);
        Assert.Empty(await NamesAsync(temporary.Shelf, sheet));
    }

    [Fact]
    public async Task A_picture_that_the_store_could_not_take_is_offered_again()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        using var camera = new Camera();
        using var sheet = await SheetAsync(temporary.Shelf, "");
        var troubled = TroubledShelf.Before(temporary.Shelf, nameof(IReviewShelf.AttachAsync));
        Services.AddSingleton(new WatchedFolder(camera.Options, troubled.Shelf, TimeProvider.System));
        Services.AddSingleton(TimeProvider.System);
        var part = Render<WatchedPart>(p => p.Add(w => w.Sheet, sheet));
        part.WaitForAssertion(() => Assert.Contains(Camera.Picture, part.Find("button").TextContent, StringComparison.Ordinal), TimeSpan.FromSeconds(60));

        part.Find("button").Click();
        part.WaitForAssertion(() => Assert.Contains("could not be kept: The disk is full;", part.Find(".fault").TextContent, StringComparison.Ordinal), TimeSpan.FromSeconds(60));
        troubled.Failing.Clear();
        part.WaitForAssertion(() => Assert.False(part.Find("button").HasAttribute("disabled")), TimeSpan.FromSeconds(60));
        part.Find("button").Click();

        part.WaitForAssertion(() => Assert.Empty(part.FindAll("button")), TimeSpan.FromSeconds(60));
        Assert.Empty(part.FindAll(".fault"));
        await SavedAsync(sheet);
        Assert.Equal([Camera.Picture], await NamesAsync(temporary.Shelf, sheet));
        await DisposeComponentsAsync();
    }

    internal static ReviewSheets Sheets(IReviewShelf shelf) =>
        new(shelf, TemporaryShelf.Catalogue, TimeProvider.System, new Plates(), new LatelyExamined(), new ReportWriting(shelf, TemporaryShelf.Catalogue, new LatelyExamined(), TimeProvider.System));

    /// <summary>A sheet of a new review with some files.</summary>
    internal static async Task<ReviewSheet> SheetAsync(IReviewShelf shelf, string more, params string[] files)
    {
        var stored = await shelf.CreateAsync($$"""{ "format": "pairbench-review/1", {{more}} "style": { "name": "Pictured" }, "build": { "label": "a" } }""", Cancel);
        foreach (var file in files)
        {
            using var content = new MemoryStream(Jpeg(file.Length));
            await shelf.AttachAsync(stored.Id, file, content, Cancel);
        }

        return (await Sheets(shelf).OpenAsync(stored.Id))!;
    }

    internal static Task SavedAsync(ReviewSheet sheet) => StateAsync<SaveState.Saved>(sheet);

    private static Task StateAsync<T>(ReviewSheet sheet)
        where T : SaveState => Until.Holds(() => sheet.State is T, () => $"It is {sheet.State}.");

    private static async Task<IEnumerable<string>> NamesAsync(IReviewShelf shelf, ReviewSheet sheet) => (await shelf.FilesAsync(sheet.Id, Cancel)).Select(f => f.Name);

    private static byte[] Jpeg(int grey) => PictureWriter.Jpeg(new RgbImage(new PixelSize(8, 8), [.. Enumerable.Repeat((byte)grey, 192)]), 92);

    /// <summary>A picture whose right half has another grey, with a little of everything as a camera gives it.</summary>
    private static byte[] TwoGreys(byte left, byte right)
    {
        var random = new Random(7);
        var size = new PixelSize(120, 90);
        return PictureWriter.Png(new RgbImage(size, [.. Enumerable.Range(0, (int)size.Count).SelectMany(i => Enumerable.Repeat((i % 120 < 60 ? left : right) + random.Next(-2, 3), 3)).Select(v => (byte)v)]));
    }

    /// <summary>A watched folder with one picture in it.</summary>
    private sealed class Camera : IDisposable
    {
        public const string Picture = "camera-1.jpg";

        private readonly string _folder = Directory.CreateTempSubdirectory("camera-").FullName;

        public Camera()
        {
            var path = Path.Combine(_folder, Picture);
            File.WriteAllBytes(path, Jpeg(90));
            File.SetLastWriteTimeUtc(path, DateTime.UtcNow.AddSeconds(-5));
        }

        public BenchOptions Options => new() { DataFolder = _folder, WatchedFolder = _folder };

        public void Dispose() => Directory.Delete(_folder, recursive: true);
    }
}
