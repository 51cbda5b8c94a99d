using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class WatchedFolderTests(BenchFixture bench)
{
    [Fact]
    public async Task A_picture_that_the_camera_writes_is_offered_and_taken_and_what_is_none_is_refused()
    {
        var review = await bench.Shelf.CreateAsync("""{ "format": "pairbench-review/1", "style": { "name": "Watched", "construction": "vulcanized" }, "build": { "label": "bulk 1" } }""");
        await using var opened = await bench.OpenAsync($"reviews/{review.Id}?open=walk-round");
        var page = opened.Page;
        var (picture, text) = (Path.Combine(bench.Camera, "camera-1.jpg"), Path.Combine(bench.Camera, "notes.jpg"));
        try
        {
            File.Copy(bench.Sole, picture);
            await File.WriteAllTextAsync(text, "no picture at all", TestContext.Current.CancellationToken);
            File.SetLastWriteTimeUtc(picture, DateTime.UtcNow.AddSeconds(-5));
            File.SetLastWriteTimeUtc(text, DateTime.UtcNow.AddSeconds(-5));

            await Assertions.Expect(page.GetByText("2 new in the watched folder").First).ToBeVisibleAsync();
            await page.GetByRole(AriaRole.Button, new() { Name = "Take all" }).First.ClickAsync();
            await Assertions.Expect(page.GetByRole(AriaRole.Alert).Filter(new() { HasText = "notes.jpg:" }).First).ToBeVisibleAsync();
            await Assertions.Expect(page.GetByText("new in the watched folder")).ToHaveCountAsync(0);
            await opened.SavedAsync();
            Assert.Equal("camera-1.jpg", Assert.Single(await bench.Shelf.FilesAsync(review.Id, TestContext.Current.CancellationToken)).Name);
            Assert.True(File.Exists(picture));
            Assert.Empty(opened.Errors);
        }
        finally
        {
            File.Delete(picture);
            File.Delete(text);
        }
    }
}
