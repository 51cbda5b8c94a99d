using System.Globalization;
using System.Text;
using Pairbench.Storage;

// Saves to the shelf in the named folder until it is killed, and says on standard output what was acknowledged.
var shelf = await ReviewShelf.OpenFolderAsync(args[0]);
var page = await shelf.ListAsync(new ShelfQuery());
var review = page.Total == 0
    ? await shelf.CreateAsync(Document(0))
    : (await shelf.ReadAsync(page.Reviews[0].Id))!;
var revision = review.Revision;
for (var count = revision; ; count++)
{
    if (count % 4 == 0)
    {
        var file = await shelf.AttachAsync(review.Id, $"file-{count.ToString(CultureInfo.InvariantCulture)}.bin", new MemoryStream(Encoding.UTF8.GetBytes(new string('x', 20_000) + count.ToString(CultureInfo.InvariantCulture))));
        Console.WriteLine($"file {file.Hash}");
    }

    if (await shelf.SaveAsync(review.Id, revision, Document(count)) is not SaveResult.Saved saved)
    {
        return 1;
    }

    revision = saved.Revision;
    Console.WriteLine($"saved {revision.ToString(CultureInfo.InvariantCulture)} {count.ToString(CultureInfo.InvariantCulture)}");
}

static string Document(long count) =>
    $$$"""{"format":"pairbench-review/1","style":{"name":"Invented","category":"{{{count.ToString(CultureInfo.InvariantCulture)}}}"},"build":{"label":"crash"}}""";
