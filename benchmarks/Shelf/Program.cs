using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.Json;
using Microsoft.Data.Sqlite;
using Pairbench.Benchmarks.Shelf;
using Pairbench.Footwear;
using Pairbench.Footwear.Change;
using Pairbench.Footwear.Shapes;
using Pairbench.Storage;

// How long the shelf takes with many reviews: list, searches, one review, comparison, a figure over builds; each beside the barest SQL that answers the same.
var count = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 100_000;
var folder = Directory.CreateTempSubdirectory("pairbench-shelf-").FullName;
try
{
    var watch = Stopwatch.StartNew();
    var shelf = await MadeShelf.MakeAsync(folder, count);
    var database = Path.Combine(folder, "pairbench.db");
    var total = (await shelf.ListAsync(new ShelfQuery())).Total;
    Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{total} reviews, {new FileInfo(database).Length / 1e6:0} MB, made in {watch.Elapsed.TotalSeconds:0} s"));
    var ids = (await shelf.ListAsync(new ShelfQuery(Take: 400))).Reviews.Select(r => r.Id).ToArray();
    using var bare = new SqliteConnection($"Data Source={database}");
    bare.Open();
    const string Listed = "SELECT * FROM review WHERE DeletedAt IS NULL";
    await Measure("open the list", i => shelf.ListAsync(new ShelfQuery()), i => Ask($"SELECT count(*) FROM review WHERE DeletedAt IS NULL; {Listed} ORDER BY ChangedAt DESC LIMIT 50"));
    await Measure("search, a rare word", i => shelf.ListAsync(new ShelfQuery($"harbour run {i + 1}")), i => Ask($"{Listed} AND SearchText LIKE '%harbour%' AND SearchText LIKE '%run%' AND SearchText LIKE '%{i + 1}%' ORDER BY ChangedAt DESC LIMIT 50"));
    await Measure("search, a common word", i => shelf.ListAsync(new ShelfQuery("works")), i => Ask($"{Listed} AND SearchText LIKE '%works%' ORDER BY ChangedAt DESC LIMIT 50"));
    await Measure("search, no such word", i => shelf.ListAsync(new ShelfQuery($"zebra{i}")), i => Ask($"{Listed} AND SearchText LIKE '%zebra{i}%' ORDER BY ChangedAt DESC LIMIT 50"));
    await Measure("by factory", i => shelf.ListAsync(new ShelfQuery(Factory: $"Works {i % 12}")), i => Ask($"{Listed} AND Factory = 'Works {i % 12}' ORDER BY ChangedAt DESC LIMIT 50"));
    await Measure("by size", i => shelf.ListAsync(new ShelfQuery(Size: $"{38 + (i % 8)}")), i => Ask($"{Listed} AND Size = '{38 + (i % 8)}' ORDER BY ChangedAt DESC LIMIT 50"));
    await Measure("by tag", i => shelf.ListAsync(new ShelfQuery(Tag: $"season {i % 6}")), i => Ask($"{Listed} AND Tags LIKE '%season {i % 6}%' ORDER BY ChangedAt DESC LIMIT 50"));
    await Measure("by finding", i => shelf.ListAsync(new ShelfQuery(Finding: $"askew {i % 80 * 5}")), i => Ask($"{Listed} AND Id IN (SELECT ReviewId FROM finding WHERE SearchText LIKE '%askew%' AND SearchText LIKE '%{i % 80 * 5}%') ORDER BY ChangedAt DESC LIMIT 50"));
    await Measure("by figure in a range", i => shelf.ListAsync(new ShelfQuery(Figure: new FigureRange("readings/main/mass", 405 + (i * 0.1), 406 + (i * 0.1)))), i => Ask(string.Create(CultureInfo.InvariantCulture, $"{Listed} AND Id IN (SELECT ReviewId FROM figure WHERE Address = 'readings/main/mass' AND Value BETWEEN {405 + (i * 0.1)} AND {406 + (i * 0.1)}) ORDER BY ChangedAt DESC LIMIT 50")));
    await Measure("one review", i => OneAsync(ids[i % ids.Length]), i => Ask($"SELECT Document FROM revision WHERE ReviewId = '{ids[i % ids.Length]}'; SELECT Outcomes FROM examined WHERE ReviewId = '{ids[i % ids.Length]}'"));
    await Measure("comparison of two", i => CompareAsync(ids[i % ids.Length], ids[(i + 7) % ids.Length]), i => Ask($"SELECT a.Value - b.Value FROM figure a JOIN figure b USING (Address) WHERE a.ReviewId = '{ids[i % ids.Length]}' AND b.ReviewId = '{ids[(i + 7) % ids.Length]}'"));
    await Measure("a figure over a style's builds", i => shelf.FiguresAsync(new FigureQuery("readings/main/mass", $"Harbour {i % 5 * 8} (invented) {i % 8}")), i => Ask($"SELECT r.*, f.* FROM review r JOIN figure f ON f.ReviewId = r.Id WHERE r.Style = 'Harbour {i % 5 * 8} (invented) {i % 8}' AND f.Address = 'readings/main/mass' ORDER BY r.BuildDate"));

    async Task<object> OneAsync(string id)
    {
        var stored = await shelf.ReadAsync(id);
        await shelf.FilesAsync(id);
        await shelf.OutcomesAsync(id);
        return ReviewRun.Read(ShapeReader.Parse(Encoding.UTF8.GetBytes(stored!.Document), "made"));
    }

    async Task<object> CompareAsync(string before, string after)
    {
        var past = new List<ReviewOutcomes>();
        foreach (var id in new[] { before, after })
        {
            var review = (Review)await OneAsync(id);
            using var outcomes = JsonDocument.Parse((await shelf.OutcomesAsync(id))!);
            past.Add(ReviewComparison.Of(review, outcomes.RootElement, id));
        }

        return ReviewComparison.Compare([.. past], ImmutableDictionary<string, double>.Empty);
    }

    int Ask(string sql)
    {
        using var command = bare.CreateCommand();
        command.CommandText = sql;
        using var reader = command.ExecuteReader();
        var rows = 0;
        do
        {
            while (reader.Read())
            {
                reader.GetValue(0);
                rows++;
            }
        }
        while (reader.NextResult());
        return rows;
    }
}
finally
{
    SqliteConnection.ClearAllPools();
    Directory.Delete(folder, recursive: true);
}

static async Task Measure<T>(string what, Func<int, Task<T>> ours, Func<int, int> reference)
{
    const int Times = 100;
    var (mine, theirs) = (new List<double>(), new List<double>());
    for (var i = -5; i < Times; i++)
    {
        var at = Math.Abs(i);
        var watch = Stopwatch.StartNew();
        await ours(at);
        var first = watch.Elapsed.TotalMilliseconds;
        watch.Restart();
        reference(at);
        if (i >= 0)
        {
            mine.Add(first);
            theirs.Add(watch.Elapsed.TotalMilliseconds);
        }
    }

    double At(List<double> times, double share) => times.Order().ElementAt((int)(share * (Times - 1)));
    Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{what,-32} median {At(mine, 0.5),7:0.0} ms, 95th percentile {At(mine, 0.95),7:0.0} ms; bare SQL {At(theirs, 0.95),7:0.0} ms"));
}
