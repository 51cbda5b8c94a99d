using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Reporting.CorrectionSheets;

/// <summary>One row of a correction sheet that came back.</summary>
/// <param name="Place">File and number of the row, for faults.</param>
/// <param name="Cells">By the letters of their columns.</param>
/// <param name="Columns">Letters of the columns that have a key; a copied column has the key of the one that it was copied from.</param>
internal sealed record ReturnedRow(string Place, ImmutableDictionary<string, string> Cells, ILookup<string, string> Columns)
{
    private const int MostWords = 2000;

    /// <summary>Keys of the columns that the factory fills in.</summary>
    public static ImmutableHashSet<string> Answers { get; } = ["state", "words", "answered-by", "answered-on"];

    public string Address => Of("address");

    /// <summary>Whether it is the row of a finding in which something was filled in.</summary>
    public bool IsAnswered => Address.Contains('/', StringComparison.Ordinal) && !Address.StartsWith(CorrectionWorkbook.KeyPrefix, StringComparison.Ordinal) && Answers.Any(a => Of(a).Length > 0);

    /// <summary>Answers that stand twice, with different words.</summary>
    public IEnumerable<Fault> Doubled(Glossary glossary) =>
        Answers.Order(StringComparer.Ordinal).Where(a => Said(a).Length > 1).Select(a => new Fault($"{Place}, {glossary.English(a)}", $"stands in the columns {string.Join(" and ", Columns[a])} with different words", "keep the column that counts and delete its copy"));

    public IEnumerable<Fault> Unreadable(Glossary glossary)
    {
        if (glossary.State(Of("state")) is null)
        {
            yield return new Fault($"{Place}, {glossary.English("state")}", Of("state").Length == 0 ? "is empty although something else was filled in" : $"is '{Of("state")}'", $"write one of {string.Join(", ", Enum.GetValues<ReplyState>().Select(s => glossary.Of(s, null)))}, in English or a language of the sheet");
        }

        if (Of("answered-on").Length > 0 && Date(Of("answered-on")) is null)
        {
            yield return new Fault($"{Place}, {glossary.English("answered-on")}", $"is '{Of("answered-on")}'", "write a date as 2026-12-31");
        }

        if (Of("words").Length > MostWords)
        {
            yield return new Fault($"{Place}, {glossary.English("words")}", string.Create(CultureInfo.InvariantCulture, $"is {Of("words").Length} characters long"), string.Create(CultureInfo.InvariantCulture, $"write at most {MostWords}"));
        }
    }

    /// <summary>What the factory answers; null where its state cannot be read.</summary>
    public CorrectionReply? Reply(Glossary glossary) =>
        glossary.State(Of("state")) is { } state ? new CorrectionReply(state, Given(Of("words")), Given(Of("answered-by")), Date(Of("answered-on"))) : null;

    private ImmutableArray<string> Said(string key) => [.. Columns[key].Select(c => Cells.GetValueOrDefault(c, "").Trim()).Where(t => t.Length > 0).Distinct(StringComparer.Ordinal)];

    private string Of(string key) => Said(key).FirstOrDefault("");

    /// <summary>A date as text, or as the day number that spreadsheets keep.</summary>
    private static DateOnly? Date(string text)
    {
        if (Dates.Read(text) is { } written)
        {
            return written;
        }

        if (DateOnly.TryParseExact(text, ["yyyy/MM/dd", "d MMM yyyy"], CultureInfo.InvariantCulture, DateTimeStyles.None, out var date))
        {
            return date;
        }

        return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var day) && day is > 36_526 and < 73_051
            ? DateOnly.FromDateTime(DateTime.FromOADate(day))
            : null;
    }

    private static string? Given(string text) => text.Length == 0 ? null : text;
}
