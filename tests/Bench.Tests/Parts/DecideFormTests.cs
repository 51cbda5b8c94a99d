using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Sheets;

namespace Pairbench.Bench.Tests.Parts;

public sealed class DecideFormTests : BunitContext
{
    private const string Evidence = """, "evidence": { "hardness": [ { "id": "main", "spots": [ { "id": "toe", "scale": "ShoreA", "readings": [42, 42, 42, 42, 42], "surface": "bare" } ] } ] }""";

    public DecideFormTests()
    {
        JSInterop.Setup<string>("pairbench.draft", _ => true).SetResult("");
        Services.AddSingleton(TemporaryShelf.Catalogue);
        Services.AddSingleton(TimeProvider.System);
    }

    [Fact]
    public async Task A_verdict_from_before_a_change_that_was_not_examined_says_so()
    {
        await using var opened = await OpenedSheet.OpenAsync(Evidence);
        await opened.SettledAsync();
        var form = Render<DecideForm>(p => p.Add(f => f.Sheet, opened.Sheet));
        Assert.Equal("pass", form.Find(".word").TextContent.Trim());

        opened.Sheet.Put("evidence/hardness/0/spots/0/readings/5", 70);
        opened.Sheet.CallOff();
        form.Render();

        Assert.Equal("pass so far", form.Find(".word").TextContent.Trim());
        Assert.Equal("Not examined as it stands. What follows was found before.", form.Find(".word + p").TextContent);
    }

    [Fact]
    public async Task A_sheet_with_evidence_that_was_never_examined_does_not_wait_for_evidence()
    {
        await using var opened = await OpenedSheet.OpenAsync(Evidence);
        opened.Sheet.CallOff();
        Assert.Null(opened.Sheet.Examined);

        var form = Render<DecideForm>(p => p.Add(f => f.Sheet, opened.Sheet));

        Assert.Equal("Not examined as it stands.", form.Find("#verdict-name ~ p").TextContent);
    }

    [Fact]
    public async Task The_day_that_a_concession_ends_stands_in_words()
    {
        JSInterop.SetupVoid("pairbench.keepDraft", _ => true).SetVoidResult();
        await using var opened = await OpenedSheet.OpenAsync(Evidence);
        var form = Render<DecideForm>(p => p.Add(f => f.Sheet, opened.Sheet));

        form.Find("#until").Change("2026-12-15");

        Assert.Equal("15 Dec 2026", form.Find(".day").TextContent);
    }
}
