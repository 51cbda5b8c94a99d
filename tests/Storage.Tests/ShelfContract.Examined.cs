using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Storage.Tests;

/// <content>What every shelf keeps of what the examinations said.</content>
public abstract partial class ShelfContract
{
    [Fact]
    public async Task WhatWasFoundIsFoundAgainAcrossReviews()
    {
        var shelf = await OpenAsync();
        var mark = Guid.NewGuid().ToString("n")[..8];
        foreach (var (build, share) in new[] { (2, 55.0), (1, 48.0), (3, 52.0) })
        {
            var created = await shelf.CreateAsync(Reviewed(mark, build), Cancel);
            await shelf.NoteExaminedAsync(created.Id, 1, Found(share, $"toe cap {build} mm askew"), Cancel);
        }

        var figures = await shelf.FiguresAsync(new FigureQuery("underfoot/left/share.textile", $"style {mark}"), Cancel);
        Assert.Equal([48.0, 55.0, 52.0], figures.Select(f => f.Value));
        Assert.Equal(["1", "2", "3"], figures.Select(f => f.Review.Build));
        Assert.All(figures, f => Assert.Equal(0.9, f.StandardUncertainty, 12));
        Assert.Equal([new FigureName("underfoot/left/share.textile", "Textile share", "%")], await shelf.FigureNamesAsync($"style {mark}", Cancel));
        Assert.Equal(["toe cap 1 mm askew", "toe cap 2 mm askew", "toe cap 3 mm askew"], (await shelf.FindingsAsync(new FindingQuery($"style {mark}"), Cancel)).Select(f => f.Words));
        Assert.Equal(1, (await Total(new ShelfQuery(Style: $"style {mark}", Finding: "askew 2"))));
        Assert.Equal(2, (await Total(new ShelfQuery(Style: $"style {mark}", Figure: new FigureRange("underfoot/left/share.textile", Min: 50)))));
        Assert.Equal(3, (await Total(new ShelfQuery(mark, Tag: "Carton 7"))));
        Assert.Equal(0, (await Total(new ShelfQuery(mark, Tag: "carton"))));
        Assert.Equal(1, (await Total(new ShelfQuery(mark, Factory: "plant 1"))));
        Assert.Equal(3, (await Total(new ShelfQuery(mark, Size: "42"))));

        async Task<int> Total(ShelfQuery query) => (await shelf.ListAsync(query, Cancel)).Total;
    }

    [Fact]
    public async Task WhatIsNotedOfAnOldRevisionIsNotKept()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Noted", "a"), Cancel);
        await shelf.NoteExaminedAsync(created.Id, 1, Found(48, "first"), Cancel);
        await shelf.SaveAsync(created.Id, 1, Document("Noted", "b"), Cancel);

        await shelf.NoteExaminedAsync(created.Id, 1, Found(99, "late"), Cancel);
        Assert.Null(await shelf.OutcomesAsync(created.Id, Cancel));

        await shelf.NoteExaminedAsync(created.Id, 2, Found(51, "second"), Cancel);
        var outcomes = await shelf.OutcomesAsync(created.Id, Cancel);
        Assert.Contains("second", outcomes, StringComparison.Ordinal);
        Assert.DoesNotContain("first", outcomes, StringComparison.Ordinal);

        await shelf.DeleteAsync(created.Id, Cancel);
        Assert.Null(await shelf.OutcomesAsync(created.Id, Cancel));
    }

    [Fact]
    public async Task FiguresOfDeletedAndOfPastRevisionsAreNotOffered()
    {
        var shelf = await OpenAsync();
        var mark = Guid.NewGuid().ToString("n")[..8];
        var found = Found(48, "sound");
        Examined Named(string figure) => found with { Outcomes = [.. found.Outcomes.Select(o => o with { Figures = [.. o.Figures.Select(f => f with { Id = $"{figure}-{mark}" })] })] };
        var (past, deleted) = (await shelf.CreateAsync(Reviewed(mark, 1), Cancel), await shelf.CreateAsync(Reviewed(mark, 1), Cancel));
        await shelf.NoteExaminedAsync(past.Id, 1, Named("past"), Cancel);
        await shelf.NoteExaminedAsync(deleted.Id, 1, Named("deleted"), Cancel);
        Assert.Equal([$"underfoot/left/deleted-{mark}", $"underfoot/left/past-{mark}"], await Offered());

        await shelf.SaveAsync(past.Id, 1, Reviewed(mark, 2), Cancel);
        Assert.Equal([$"underfoot/left/deleted-{mark}"], await Offered());
        await shelf.DeleteAsync(deleted.Id, Cancel);
        Assert.Empty(await Offered());

        async Task<IEnumerable<string>> Offered() => (await shelf.FigureNamesAsync("", Cancel)).Select(n => n.Address).Where(a => a.EndsWith(mark, StringComparison.Ordinal));
    }

    [Fact]
    public async Task WhatWasFoundInARevisionIsPastOnceAnotherIsSaved()
    {
        var shelf = await OpenAsync();
        var mark = Guid.NewGuid().ToString("n")[..8];
        var created = await shelf.CreateAsync(Reviewed(mark, 1), Cancel);
        await shelf.NoteExaminedAsync(created.Id, 1, Found(48, "toe cap 3 mm askew"), Cancel);
        Assert.Equal((1, 1, 1, 1), await Counted());

        await shelf.SaveAsync(created.Id, 1, Reviewed(mark, 2), Cancel);
        Assert.Equal((0, 0, 0, 0), await Counted());
        Assert.Null(await shelf.OutcomesAsync(created.Id, Cancel));
        Assert.Empty(await shelf.FigureNamesAsync($"style {mark}", Cancel));

        await shelf.NoteExaminedAsync(created.Id, 2, Found(49, "toe cap 3 mm askew"), Cancel);
        Assert.Equal((1, 1, 1, 1), await Counted());

        async Task<(int Figures, int Findings, int ByFinding, int ByFigure)> Counted() => (
            (await shelf.FiguresAsync(new FigureQuery("underfoot/left/share.textile", $"style {mark}"), Cancel)).Length,
            (await shelf.FindingsAsync(new FindingQuery($"style {mark}"), Cancel)).Length,
            (await shelf.ListAsync(new ShelfQuery(Style: $"style {mark}", Finding: "askew"), Cancel)).Total,
            (await shelf.ListAsync(new ShelfQuery(Style: $"style {mark}", Figure: new FigureRange("underfoot/left/share.textile")), Cancel)).Total);
    }

    private static string Reviewed(string mark, int build) =>
        $$$"""{"format":"pairbench-review/1","style":{"name":"style {{{mark}}}"},"build":{"label":"{{{build}}}","factory":"plant {{{build}}}","date":"2026-0{{{build}}}-01"},"pair":{"size":"42"},"tags":["Carton 7","held"]}""";

    private static Examined Found(double share, string words) => new(
        [new Outcome
        {
            Examination = "underfoot",
            Entry = "left",
            Figures = [new Figure("share.textile", "Textile share", Measured.Of(share, "%", "boundary:sole", 0.9))],
            Findings = [new Finding("askew", Severity.Minor, words) { Check = "toe-cap-laying", Component = "toe cap", Side = Side.Left }],
        }],
        new Verdict(VerdictWord.PassWithCorrections, [], [], [], []));
}
