using Pairbench.Bench.Trends;
using Pairbench.Footwear;
using Pairbench.Imaging;

namespace Pairbench.Bench.Tests.Parts;

public sealed class ShelfTrendTests
{
    private const string Address = "readings/main/peel";

    [Fact]
    public async Task Builds_in_another_unit_are_no_points_and_are_named()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        await ExaminedAsync(temporary, "bulk 1", "2026-01-01", "g");
        await ExaminedAsync(temporary, "bulk 2", "2026-02-01", "N/cm");
        await ExaminedAsync(temporary, "bulk 3", "2026-03-01", "N/mm");

        var series = (await ShelfTrend.OfAsync(temporary.Shelf, Address, "Quay", "", null, TemporaryShelf.Cancel)).Series!;

        // One newton on the millimetre is ten on the centimetre.
        Assert.Equal([("bulk 2", 3.0), ("bulk 3", 30.0)], series.Points.Select(p => (p.Build.Label, Math.Round(p.Mean, 9))));
        Assert.Equal(["peel (readings/main/peel) is in g at bulk 1, and in N/mm at the latest build: scales are never mixed, so that build is left out."], series.LeftOutWords);
    }

    private static async Task ExaminedAsync(TemporaryShelf temporary, string build, string date, string unit)
    {
        var stored = await temporary.Shelf.CreateAsync($$"""
            { "format": "pairbench-review/1", "style": { "name": "Quay" }, "build": { "label": "{{build}}", "date": "{{date}}" },
              "evidence": { "readings": { "items": [ { "id": "peel", "quantity": "peel", "unit": "{{unit}}", "values": [30, 30] } ] } } }
            """, TemporaryShelf.Cancel);
        var review = ReviewRun.Read(stored.Document);
        await temporary.Shelf.NoteExaminedAsync(stored.Id, stored.Revision, ReviewRun.Examine(review, NoPhotographs.Instance, TemporaryShelf.Catalogue, cancellation: TemporaryShelf.Cancel), TemporaryShelf.Cancel);
    }
}
