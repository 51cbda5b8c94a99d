using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Examinations.WalkRound;
using Pairbench.Bench.Photographs;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Bench.Tests.Parts;

public sealed class FindingPictureTests : BunitContext
{
    private const string Finding = "evidence/walk-round/0/items/0";

    [Fact]
    public async Task A_pin_goes_with_the_picture_that_it_was_put_on_and_undo_brings_both_back()
    {
        await using var opened = await OpenAsync();
        var fields = Render<FindingFields>(p => p.Add(f => f.Sheet, opened.Sheet).Add(f => f.Path, Finding).Add(f => f.Usual, Measuring.Severity.Minor));

        fields.FindAll(".picker li button").Single(b => b.TextContent.Contains("a.png", StringComparison.Ordinal)).Click();
        Assert.Equal("""{"point":[3,1]}""", opened.Sheet.At(Finding + "/mark")!.ToJsonString());
        fields.FindAll(".picker li button").Single(b => b.TextContent.Contains("b.png", StringComparison.Ordinal)).Click();

        Assert.Equal("b.png", opened.Sheet.Text(Finding + "/photo"));
        Assert.Null(opened.Sheet.At(Finding + "/mark"));
        opened.Sheet.Undo();
        Assert.Equal(("a.png", """{"point":[3,1]}"""), (opened.Sheet.Text(Finding + "/photo"), opened.Sheet.At(Finding + "/mark")!.ToJsonString()));
        await DisposeComponentsAsync();
    }

    [Fact]
    public async Task A_finding_can_be_without_a_picture_again()
    {
        await using var opened = await OpenAsync();
        var fields = Render<FindingFields>(p => p.Add(f => f.Sheet, opened.Sheet).Add(f => f.Path, Finding).Add(f => f.Usual, Measuring.Severity.Minor));

        fields.Find(".picker button.none").Click();
        fields.Render();

        Assert.Null(opened.Sheet.At(Finding + "/photo"));
        Assert.Null(opened.Sheet.At(Finding + "/mark"));
        Assert.Empty(fields.FindAll(".picker button.none"));
        await DisposeComponentsAsync();
    }

    private async Task<OpenedSheet> OpenAsync()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        byte[] Png(byte grey) => PictureWriter.Png(new RgbImage(new PixelSize(8, 8), [.. Enumerable.Repeat(grey, 192)]));
        var opened = await OpenedSheet.OpenAsync(
            """
            , "photos": [ { "file": "a.png" }, { "file": "b.png" } ], "evidence": { "walk-round": [ { "id": "main", "items": [ { "check": "tongue", "answer": "finding", "words": "Askew", "photo": "a.png", "mark": { "point": [3, 1] } } ] } ] }
            """,
            ("a.png", Png(90)),
            ("b.png", Png(91)));
        Services.AddSingleton(new WatchedFolder(new BenchOptions { DataFolder = "" }, opened.Shelf, TimeProvider.System));
        Services.AddSingleton(TimeProvider.System);
        return opened;
    }
}
