using Bunit;
using Microsoft.AspNetCore.Components.Forms;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Sheets;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

public sealed class IntakeFormTests : BunitContext
{
    public IntakeFormTests()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddSingleton(TemporaryShelf.Catalogue);
    }

    [Fact]
    public async Task Tags_are_typed_with_commas_and_the_shelf_finds_the_review_by_them()
    {
        await using var opened = await OpenedSheet.OpenAsync("");
        var form = Render<IntakeForm>(p => p.Add(f => f.Sheet, opened.Sheet));
        AngleSharp.Dom.IElement Tags() => form.Find("#" + form.FindAll("label").Single(l => l.TextContent.Contains("with commas between", StringComparison.Ordinal)).GetAttribute("for"));

        Tags().Input("spring, deck shoe,");
        Assert.Equal("""["spring","deck shoe"]""", opened.Sheet.At("tags")!.ToJsonString());
        Assert.Equal("spring, deck shoe,", Tags().GetAttribute("value"));
        await opened.SettledAsync();
        Assert.Equal(1, (await opened.Shelf.ListAsync(new ShelfQuery(Tag: "deck shoe"), TemporaryShelf.Cancel)).Total);

        Tags().Input("");
        Assert.Null(opened.Sheet.At("tags"));
    }

    [Fact]
    public async Task A_day_without_a_name_is_asked_for_at_the_name_and_told_once()
    {
        await using var opened = await OpenedSheet.OpenAsync("");
        var form = Render<IntakeForm>(p => p.Add(f => f.Sheet, opened.Sheet));

        opened.Sheet.Type("examiner/date", "2026-03-01");
        await opened.SettledAsync();
        form.Render();

        form.WaitForAssertion(() => Assert.Equal("is missing; give a text", Assert.Single(form.FindAll(".fault")).TextContent), TimeSpan.FromSeconds(30));
        Assert.Equal(1, IntakeForm.FaultsOf(opened.Sheet));
        var name = form.FindAll("input").Single(i => i.GetAttribute("aria-invalid") == "true");
        name.Input("A. Reader");
        await opened.SettledAsync();
        Assert.Empty(opened.Sheet.Faults);
    }

    [Fact]
    public async Task Files_that_cannot_be_attached_are_told_by_their_names_and_the_others_are()
    {
        await using var opened = await OpenedSheet.OpenAsync("");
        var form = Render<IntakeForm>(p => p.Add(f => f.Sheet, opened.Sheet));

        form.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText("", "nothing.pdf"), InputFileContent.CreateFromText("x", "bond <b>.html"), InputFileContent.CreateFromText("x", "report.pdf"));

        form.WaitForState(() => opened.Sheet.At("attachments/0") is not null, TimeSpan.FromSeconds(30));
        form.WaitForState(() => form.FindAll(".fault").Count == 2, TimeSpan.FromSeconds(30));
        Assert.Equal("nothing.pdf: is an empty file; attach one that has something in it", form.FindAll(".fault")[0].TextContent);
        Assert.Equal("file name: 'bond <b>.html' is longer than 150 characters or has characters that not every system allows; rename the file", form.FindAll(".fault")[1].TextContent);
        Assert.Equal("report.pdf", Assert.Single(await opened.Shelf.FilesAsync(opened.Sheet.Id, TemporaryShelf.Cancel)).Name);
    }

    [Fact]
    public async Task A_file_that_is_no_picture_is_attached_and_a_caution_once_it_no_longer_holds()
    {
        await using var opened = await OpenedSheet.OpenAsync(""", "examiner": { "name": "A. Reader", "date": "2026-06-03" }""");
        var form = Render<IntakeForm>(p => p.Add(f => f.Sheet, opened.Sheet));

        form.FindComponent<InputFile>().UploadFiles(InputFileContent.CreateFromText("no picture", "bonding report.pdf"));
        form.WaitForState(() => opened.Sheet.At("attachments/0") is not null, TimeSpan.FromSeconds(30));
        Assert.Equal("""[{"file":"bonding report.pdf"}]""", opened.Sheet.At("attachments")!.ToJsonString());
        Assert.Equal("bonding report.pdf", Assert.Single(await opened.Shelf.FilesAsync(opened.Sheet.Id, TemporaryShelf.Cancel)).Name);
        form.WaitForState(() => form.FindAll(".attached a").Count == 1, TimeSpan.FromSeconds(30));
        Assert.EndsWith("/files/bonding%20report.pdf", form.Find(".attached a").GetAttribute("href"), StringComparison.Ordinal);
        Assert.Empty(form.FindAll(".cautions li"));

        opened.Sheet.Put("attachments/0/title", "Bonding report");
        opened.Sheet.Put("attachments/0/validUntil", "2026-06-03");
        form.Render();
        Assert.Empty(form.FindAll(".cautions li"));
        opened.Sheet.Put("attachments/0/validUntil", "2026-06-02");
        form.Render();
        Assert.Equal("Bonding report was valid until 2 Jun 2026, and no longer on 3 Jun 2026, the day of the examination.", form.Find(".cautions li").TextContent);

        opened.Sheet.Put("decision", new System.Text.Json.Nodes.JsonObject { ["taken"] = "hold", ["by"] = "A. Reader", ["on"] = "2026-06-04", ["reason"] = "made up" });
        await Assert.ThrowsAsync<Pairbench.Footwear.FaultsException>(() => opened.Sheet.AttachAsync("late.pdf", new MemoryStream()));
        Assert.Single(await opened.Shelf.FilesAsync(opened.Sheet.Id, TemporaryShelf.Cancel));
    }
}
