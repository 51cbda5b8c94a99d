using System.Globalization;
using System.Text.Json.Nodes;
using Pairbench.Footwear;

namespace Pairbench.Bench.Sheets;

/// <summary>Ids for what a page adds: a stem and a number that no other has.</summary>
public static class FreshId
{
    /// <summary>The number counts on from how many there are, so that what was deleted in the middle leaves its id unused where that can be.</summary>
    /// <param name="list">Those that are there, each with its <c>id</c>.</param>
    public static string In(IEnumerable<JsonNode?> list, string stem)
    {
        var taken = list.Select(n => JsonPath.Text(n, "id")).ToList();
        return From(taken.Count + 1, stem, taken);
    }

    /// <summary>The id of a new entry: <c>main</c> for the first.</summary>
    public static string Entry(ReviewSheet sheet, string examination, string stem)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var taken = sheet.Entries(examination).Select(e => e.Id).ToList();
        return taken.Contains(EntryAddress.Main, StringComparer.Ordinal) ? From(2, stem, taken) : EntryAddress.Main;
    }

    /// <summary>The stem with the first number from one on that gives an id which is not taken.</summary>
    public static string From(int number, string stem, IReadOnlyCollection<string> taken)
    {
        var id = Numbered(number);
        while (taken.Contains(id, StringComparer.Ordinal))
        {
            id = Numbered(++number);
        }

        return id;

        string Numbered(int n) => $"{stem}-{n.ToString(CultureInfo.InvariantCulture)}";
    }
}
