using System.Globalization;

namespace Pairbench.Footwear.Shapes;

/// <summary>Days as files write them: written, read and held against each other.</summary>
public static class Dates
{
    private const string Format = "yyyy-MM-dd";

    public static string Text(DateOnly date) => date.ToString(Format, CultureInfo.InvariantCulture);

    /// <summary>Null where the text is no date.</summary>
    public static DateOnly? Read(string? text) => DateOnly.TryParseExact(text, Format, CultureInfo.InvariantCulture, DateTimeStyles.None, out var date) ? date : null;

    /// <summary>One sentence where something was no longer valid on a day.</summary>
    /// <param name="which">What the day is that of, such as <c>examination</c>.</param>
    internal static IEnumerable<string> Over(string what, DateOnly? until, DateOnly day, string which) => until is { } last && last < day
        ? [$"{what} was valid until {Display.Day(last)}, and no longer on {Display.Day(day)}, the day of the {which}."]
        : [];

    /// <summary>One fault where something ends before it began.</summary>
    /// <param name="where">Place of the record that has both days.</param>
    /// <param name="field">The field of the last day.</param>
    /// <param name="began">What happened on the first day, such as <c>it was signed</c>.</param>
    internal static IEnumerable<Fault> LastBeforeFirst(string where, string field, DateOnly? last, DateOnly? first, string began) => (last, first) is ({ } end, { } start) && end < start
        ? [new Fault(ShapeReader.Join(where, field), $"is {Text(end)}, before {began} on {Text(start)}", "give the last day that it holds, or mend the other day")]
        : [];
}
