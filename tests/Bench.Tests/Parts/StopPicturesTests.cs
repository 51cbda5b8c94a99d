using Bunit;
using Pairbench.Bench.Photographs;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>A folded stop shows what its evidence names, and of that what the review has.</summary>
public sealed class StopPicturesTests : BunitContext
{
    [Fact]
    public async Task ShowsThePicturesThatTheEvidenceNamesInTheOrderOfTheReview()
    {
        await using var opened = await OpenedSheet.OpenAsync(
            """
            , "photos": [{ "file": "a.jpg" }, { "file": "b.jpg" }, { "file": "c.jpg" }, { "file": "lost.jpg" }],
              "evidence": { "seams": { "photo": "c.jpg", "rows": [{ "id": "main-1", "note": "as in a.jpg" }] }, "colour": { "photo": "a.jpg" }, "underfoot": [{ "id": "left", "photo": "lost.jpg" }, { "id": "right", "photo": "none.jpg" }] }
            """,
            ("a.jpg", [1]),
            ("b.jpg", [2]),
            ("c.jpg", [3]));
        string[] Shown(params string[] places) =>
            [.. Render<StopPictures>(p => p.Add(s => s.Sheet, opened.Sheet).Add(s => s.Of, [.. places])).FindAll("img").Select(i => i.GetAttribute("alt")!)];

        Assert.Equal(["c.jpg"], Shown("evidence/seams"));
        Assert.Equal(["a.jpg", "c.jpg"], Shown("evidence/seams", "evidence/colour"));
        Assert.Empty(Render<StopPictures>(p => p.Add(s => s.Sheet, opened.Sheet).Add(s => s.Of, ["evidence/underfoot"])).FindAll("li"));
        Assert.Empty(Shown("evidence/oven"));
    }

    /// <summary>A file written by hand may hold anything where photographs should stand: it opens, so that it can be mended.</summary>
    [Fact]
    public async Task WhatIsNoPhotographIsPassedOver()
    {
        await using var opened = await OpenedSheet.OpenAsync(""", "photos": ["a.jpg", 7, null, { "file": "b.jpg" }], "evidence": { "seams": ["b.jpg"] } """, ("a.jpg", [1]), ("b.jpg", [2]));

        Assert.Equal("b.jpg", Assert.Single(Render<StopPictures>(p => p.Add(s => s.Sheet, opened.Sheet).Add(s => s.Of, ["photos"])).FindAll("img")).GetAttribute("alt"));
        Assert.Equal([""], opened.Sheet.Entries("seams").Select(e => e.Id));
    }
}
