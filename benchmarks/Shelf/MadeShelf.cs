using System.Globalization;
using Microsoft.Data.Sqlite;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;
using Pairbench.Imaging;
using Pairbench.Storage;

namespace Pairbench.Benchmarks.Shelf;

/// <summary>
/// A shelf of many invented reviews. Some are created and examined through the shelf itself; the others are copies of their rows under other ids, builds,
/// factories, dates and values, since every row of the shelf is synced to disk one by one.
/// </summary>
internal static class MadeShelf
{
    private const int Patterns = 400;

    private static readonly string[] Styles = ["Harbour", "Quay", "Lantern", "Meadow", "Signal", "Ferry", "Orchard", "Canal"];

    private static readonly string[] Complaints = ["The tongue stands askew", "Cement shows above the foxing", "A stitch is skipped at the throat", "The heel patch sits low", "The lining wrinkles at the toe"];

    public static async Task<ReviewShelf> MakeAsync(string folder, int reviews)
    {
        var shelf = await ReviewShelf.OpenFolderAsync(folder);
        var catalogue = CatalogueFolder.Load(CatalogueFolder.Installed);
        var random = new Random(20261125);
        for (var i = 0; i < Patterns; i++)
        {
            var document = Document(random, i);
            var stored = await shelf.CreateAsync(document);
            var review = ReviewRun.Read(ShapeReader.Parse(System.Text.Encoding.UTF8.GetBytes(document), "made"));
            await shelf.NoteExaminedAsync(stored.Id, stored.Revision, ReviewRun.Examine(review, NoPhotographs.Instance, catalogue));
        }

        Multiply(Path.Combine(folder, "pairbench.db"), reviews / Patterns);
        return shelf;
    }

    private static string Document(Random random, int number)
    {
        string N(double value) => value.ToString("0.0", CultureInfo.InvariantCulture);
        string Three(double middle, double spread) => string.Join(", ", Enumerable.Range(0, 3).Select(_ => N(middle + (spread * (random.NextDouble() - 0.5)))));
        string Five(double middle) => string.Join(", ", Enumerable.Range(0, 5).Select(_ => N(middle + (2 * (random.NextDouble() - 0.5)))));
        var style = $"{Styles[number % Styles.Length]} {number % 50}";
        var date = new DateOnly(2023, 1, 1).AddDays(random.Next(1000));
        return $$"""
            { "format": "pairbench-review/1", "style": { "name": "{{style}} (invented)", "construction": "{{(number % 2 == 0 ? "vulcanized" : "cold-cemented")}}" },
              "build": { "label": "bulk {{number}}", "factory": "Works {{number % 12}}", "date": "{{date:yyyy-MM-dd}}", "colourway": "colour {{number % 20}}" },
              "pair": { "size": "{{38 + (number % 8)}}" }, "tags": ["season {{number % 6}}"],
              "limits": { "readings/main/mass": { "min": 380, "max": 420, "severity": "minor", "source": "invented" } },
              "evidence": {
                "readings": { "items": [ { "id": "mass", "quantity": "mass", "unit": "g", "values": [{{Three(400 + (10 * random.NextDouble()), 1)}}], "resolution": 0.1 },
                  { "id": "peel", "quantity": "peel", "unit": "N/mm", "values": [{{Three(4, 1)}}], "resolution": 0.1 }, { "id": "foxing", "quantity": "thickness", "unit": "mm", "values": [{{Three(3, 0.4)}}], "resolution": 0.1 } ] },
                "hardness": { "spots": [ { "id": "left", "component": "outsole", "scale": "ShoreA", "surface": "bare", "readings": [{{Five(60)}}] }, { "id": "right", "component": "outsole", "scale": "ShoreA", "surface": "bare", "readings": [{{Five(61)}}] } ] },
                "walk-round": { "items": [ { "check": "tongue", "answer": "finding", "side": "left", "words": "{{Complaints[number % Complaints.Length]}} ({{number}})" } ] } } }
            """;
    }

    private static void Multiply(string database, int copies)
    {
        using var connection = new SqliteConnection($"Data Source={database}");
        connection.Open();
        using var transaction = connection.BeginTransaction();
        for (var copy = 1; copy < copies; copy++)
        {
            foreach (var table in new[] { "review", "revision", "examined", "figure", "finding" })
            {
                using var command = connection.CreateCommand();
                command.Transaction = transaction;
                command.CommandText = Copied(connection, transaction, table);
                command.Parameters.AddWithValue("$copy", $"-c{copy}");
                command.Parameters.AddWithValue("$number", copy);
                command.ExecuteNonQuery();
            }
        }

        transaction.Commit();
        using var finish = connection.CreateCommand();
        finish.CommandText = "ANALYZE; PRAGMA wal_checkpoint(TRUNCATE);";
        finish.ExecuteNonQuery();
    }

    private static string Copied(SqliteConnection connection, SqliteTransaction transaction, string table)
    {
        using var command = connection.CreateCommand();
        command.Transaction = transaction;
        command.CommandText = $"SELECT name FROM pragma_table_info('{table}')";
        using var reader = command.ExecuteReader();
        var columns = new List<string>();
        while (reader.Read())
        {
            columns.Add(reader.GetString(0));
        }

        string Value(string column) => (table, column) switch
        {
            ("review", "Id") or (_, "ReviewId") => $"\"{column}\" || $copy",
            ("review", "Build") => "\"Build\" || ' run ' || $number",
            ("review", "SearchText") => "\"SearchText\" || ' run ' || $number",
            ("review", "ChangedAt") => "\"ChangedAt\" - 60000 * $number",
            ("review", "Style") => "\"Style\" || ' ' || ($number % 8)",
            ("figure", "Value") => "\"Value\" * (1 + 0.0001 * $number)",
            _ => $"\"{column}\"",
        };
        var key = table == "review" ? "Id" : "ReviewId";
        return $"INSERT INTO \"{table}\" ({string.Join(", ", columns.Select(c => $"\"{c}\""))}) SELECT {string.Join(", ", columns.Select(Value))} FROM \"{table}\" WHERE \"{key}\" NOT LIKE '%-c%'";
    }
}
