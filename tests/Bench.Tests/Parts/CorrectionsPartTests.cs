using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Correcting;
using Pairbench.Bench.Sheets;

namespace Pairbench.Bench.Tests.Parts;

public sealed class CorrectionsPartTests : BunitContext
{
    [Fact]
    public async Task A_sheet_whose_examination_was_called_off_is_not_said_to_ask_for_nothing()
    {
        Services.AddSingleton(TemporaryShelf.Catalogue);
        await using var opened = await OpenedSheet.OpenAsync(""", "evidence": { "walk-round": [ { "id": "main", "items": [ { "check": "tongue", "answer": "finding", "words": "Askew" } ] } ] }""");
        opened.Sheet.CallOff();
        Assert.Null(opened.Sheet.Examined);

        var part = Render<CorrectionsPart>(p => p.Add(c => c.Sheet, opened.Sheet));

        Assert.Equal("Not examined as it stands.", part.Find("p.quiet").TextContent);
    }

    [Fact]
    public async Task An_answer_is_taken_off_after_the_decision_too_and_what_was_asked_stays()
    {
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddSingleton(TemporaryShelf.Catalogue);
        await using var opened = await OpenedSheet.OpenAsync("""
            , "evidence": { "walk-round": [ { "id": "main", "items": [ { "check": "tongue", "answer": "finding", "words": "Askew" } ] } ] },
            "corrections": { "items": { "walk-round/main/tongue": { "owner": "A. Owner", "reply": { "state": "done", "words": "of another build" } } } },
            "decision": { "taken": "hold", "by": "A. Reader", "on": "2026-06-04", "reason": "made up" }
            """);
        await opened.SettledAsync();
        var part = Render<CorrectionsPart>(p => p.Add(c => c.Sheet, opened.Sheet));
        Assert.Contains("of another build", part.Find(".reply").TextContent, StringComparison.Ordinal);

        part.Find(".reply button").Click();
        await opened.SettledAsync();
        part.Render();

        Assert.Empty(part.FindAll(".reply"));
        Assert.Equal("""{"items":{"walk-round/main/tongue":{"owner":"A. Owner"}}}""", opened.Sheet.At(ReviewSheet.Corrections)!.ToJsonString());
    }
}
