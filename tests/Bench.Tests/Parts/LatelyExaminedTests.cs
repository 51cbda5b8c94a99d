using System.Text.Json.Nodes;
using Pairbench.Bench.Hosting;
using Pairbench.Bench.Sheets;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

public sealed class LatelyExaminedTests
{
    [Fact]
    public async Task A_review_that_is_opened_again_is_not_examined_anew()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var examined = new LatelyExamined();
        using var reports = new ReportWriting(temporary.Shelf, TemporaryShelf.Catalogue, examined, TimeProvider.System);
        var sheets = new ReviewSheets(temporary.Shelf, TemporaryShelf.Catalogue, TimeProvider.System, new Plates(), examined, reports);
        var stored = await temporary.Shelf.CreateAsync(
            """{ "format": "pairbench-review/1", "style": { "name": "Low court (invented)" }, "build": { "label": "bulk 2" }, "evidence": { "readings": { "items": [ { "id": "mass", "quantity": "mass", "unit": "g", "values": [412] } ] } } }""",
            TestContext.Current.CancellationToken);
        using var first = (await sheets.OpenAsync(stored.Id))!;
        await Until.Holds(() => first.OutcomeOf("readings", "main") is not null);

        using var again = (await sheets.OpenAsync(stored.Id))!;
        await Until.Holds(() => again.OutcomeOf("readings", "main") is not null);
        Assert.Same(first.OutcomeOf("readings", "main")!.Figures[0].Measured, again.OutcomeOf("readings", "main")!.Figures[0].Measured);

        again.Put("evidence/readings/items/0/values", new JsonArray(420));
        await Until.Holds(() => again.OutcomeOf("readings", "main")!.Figures[0].Measured.Value == 420);
        Assert.Equal(412, first.OutcomeOf("readings", "main")!.Figures[0].Measured.Value);
    }

    [Fact]
    public void What_was_found_is_forgotten_with_a_picture_that_went_or_that_another_took_the_name_of()
    {
        var examined = new LatelyExamined();
        var first = examined.Of("a", [File("sole.jpg", "1")]);

        Assert.Same(first, examined.Of("a", [File("sole.jpg", "1"), File("toe.jpg", "2")]));
        Assert.NotSame(first, examined.Of("a", [File("toe.jpg", "2")]));
        Assert.NotSame(first, examined.Of("a", [File("sole.jpg", "3")]));
        Assert.NotSame(first, examined.Of("a", [File("sole.jpg", "1")]));
        Assert.NotSame(examined.Of("a", []), examined.Of("b", []));
    }

    [Fact]
    public void Of_many_reviews_those_looked_at_last_are_remembered()
    {
        var examined = new LatelyExamined();
        var memories = Enumerable.Range(0, LatelyExamined.Most).Select(i => examined.Of($"{i}", [])).ToArray();
        Assert.Same(memories[0], examined.Of("0", []));

        examined.Of("one more", []);

        Assert.Same(memories[0], examined.Of("0", []));
        Assert.Same(memories[2], examined.Of("2", []));
        Assert.NotSame(memories[1], examined.Of("1", []));
    }

    private static StoredFile File(string name, string hash) => new(name, hash, 1);
}
