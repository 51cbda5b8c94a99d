using Microsoft.Playwright;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class AttachmentTests(BenchFixture bench)
{
    [Fact]
    public async Task A_report_is_attached_at_the_intake_and_comes_back_as_it_was()
    {
        var review = await bench.MeasuredReviewAsync();
        await using var opened = await bench.OpenAsync($"reviews/{review.Id}?open=intake");
        var page = opened.Page;

        await page.GetByLabel("Attach a report, specification or other file").SetInputFilesAsync(new FilePayload { Name = "bonding.html", MimeType = "text/html", Buffer = "<p>made up</p>"u8.ToArray() });
        await page.GetByLabel("What it is").FillAsync("Bonding report");
        await page.GetByLabel("Tags with commas between").PressSequentiallyAsync("spring, deck,");
        await opened.SavedAsync();
        var download = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "bonding.html" }).ClickAsync());
        using var content = new StreamReader(await download.CreateReadStreamAsync());
        Assert.Equal("<p>made up</p>", await content.ReadToEndAsync(TestContext.Current.CancellationToken));
        using var client = new HttpClient();
        using var answer = await client.GetAsync(new Uri($"{bench.Address}/reviews/{review.Id}/files/bonding.html"), TestContext.Current.CancellationToken);
        Assert.Equal(("application/octet-stream", "attachment"), (answer.Content.Headers.ContentType!.MediaType, answer.Content.Headers.ContentDisposition!.DispositionType));
        Assert.Empty(await opened.BarriersAsync());

        await page.ReloadAsync();
        await Assertions.Expect(page.GetByLabel("What it is")).ToHaveValueAsync("Bonding report");
        await Assertions.Expect(page.GetByLabel("Tags with commas between")).ToHaveValueAsync("spring, deck");
        Assert.Empty(opened.Errors);

        var kept = Assert.Single(await bench.Shelf.FilesAsync(review.Id), f => f.Name == "bonding.html").Hash;
        File.Delete(Path.Combine(bench.Folder, "files", kept[..2], kept));
        await page.GetByRole(AriaRole.Link, new() { Name = "bonding.html" }).ClickAsync();
        await Assertions.Expect(page.GetByText("bonding.html: is missing from the store; bring the store back from a backup")).ToBeVisibleAsync();
    }
}
