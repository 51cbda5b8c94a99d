using System.Collections.Immutable;
using System.Text.Json;

namespace Pairbench.Footwear.Change;

/// <summary>
/// Names of the causes of one review, set beside those of others. Within a review equal names are one cause; two reviews may well give one name to two photographs or entries. So a cause belongs to its
/// review alone unless it is of a kind that outlives one: an instrument as it was calibrated, a person, a print that has a name, a price list, a rate of exchange, a card of a material, a published relation; or
/// unless somebody named it himself, without a kind.
/// </summary>
internal sealed class ReviewCauses
{
    private static readonly ImmutableHashSet<string> OfInstrument = ["instrument", "durometer"];

    private static readonly ImmutableHashSet<string> OfPrint = ["scale-x", "scale-y", "check-bar", "check-bar-across"];

    private static readonly ImmutableHashSet<string> Lasting =
        ["operator", "price-list", "exchange-rate", "relation", "conductivity", "density", "specific-heat", "limit", "softening", "melting", "regain"];

    private readonly string _review;
    private readonly ImmutableDictionary<string, string> _calibrations;

    private ReviewCauses(string review, ImmutableDictionary<string, string> calibrations) => (_review, _calibrations) = (review, calibrations);

    /// <param name="name">What tells the review's own causes from those of others.</param>
    public static ReviewCauses Of(ReviewOutcomes review, string name) => new(name, review.Instruments
        .Select(i => (i.Id, Words: Calibrated(Display.Day(i.CalibratedOn), Display.Day(i.CalibrationUntil))))
        .Concat(review.Outcomes.SelectMany(Calibrations))
        .Where(c => c.Words.Length > 0)
        .GroupBy(c => c.Id, StringComparer.Ordinal)
        .ToImmutableDictionary(g => g.Key, g => string.Join(" and ", g.Select(c => c.Words).Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal)), StringComparer.Ordinal));

    /// <summary>The name of a cause among those of all reviews.</summary>
    public string Among(string cause)
    {
        var at = cause.IndexOf(':', StringComparison.Ordinal);
        var (kind, about) = at < 0 ? ("", cause) : (cause[..at], cause[(at + 1)..]);
        return about.StartsWith("unnamed:", StringComparison.Ordinal) ? Own(cause)
            : OfInstrument.Contains(kind) ? _calibrations.TryGetValue(about, out var calibrated) ? $"{cause}, {calibrated}" : cause
            : kind.Length == 0 || Lasting.Contains(kind) || (OfPrint.Contains(kind) && Id.IsId(about)) ? cause
            : Own(cause);
    }

    /// <summary>Parts of one joint estimate stay together.</summary>
    private string Own(string cause) => cause.IndexOf('#', StringComparison.Ordinal) is var at and >= 0 ? $"{cause[..at]}@{_review}{cause[at..]}" : $"{cause}@{_review}";

    /// <summary>What an outcome says in its table of circumstances, a column for all that was read alike.</summary>
    private static IEnumerable<(string Id, string Words)> Calibrations(JsonElement outcome)
    {
        if (outcome.ValueKind != JsonValueKind.Object || !outcome.TryGetProperty("tables", out var tables) || tables.ValueKind != JsonValueKind.Object
            || !tables.TryGetProperty("circumstances", out var table) || table.ValueKind != JsonValueKind.Array)
        {
            return [];
        }

        ImmutableArray<JsonElement> rows = [.. table.EnumerateArray().Where(r => r.ValueKind == JsonValueKind.Object)];
        string Stated(string what, string column) => rows.FirstOrDefault(r => Text(r, "what") == what) is { ValueKind: JsonValueKind.Object } row && Text(row, column) is var text && text != "not stated" ? text : "";
        return rows.SelectMany(r => r.EnumerateObject().Select(p => p.Name)).Where(c => c != "what").Distinct(StringComparer.Ordinal)
            .Select(c => (Stated("instrument", c), Calibrated(Stated("calibrated on", c), Stated("calibration until", c))));
    }

    private static string Text(JsonElement row, string column) => row.TryGetProperty(column, out var cell) && cell.ValueKind == JsonValueKind.String ? cell.GetString()! : "";

    private static string Calibrated(string on, string until) => on.Length > 0 ? $"calibrated {on}" : until.Length > 0 ? $"calibrated until {until}" : "";
}
