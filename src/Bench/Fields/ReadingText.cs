using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Bench.Fields;

/// <summary>What is typed or pasted as readings: a number, or several with spaces or semicolons between.</summary>
public static class ReadingText
{
    private const int MostShown = 60;

    /// <summary>Empty where any part is no number.</summary>
    public static ImmutableArray<double> Numbers(string typed)
    {
        var numbers = Parts(typed).Select(FieldText.Number).ToArray();
        return numbers.Contains(null) ? [] : [.. numbers.OfType<double>()];
    }

    /// <summary>Why it is not taken, on one line; empty where it is.</summary>
    /// <param name="range">Least and largest number that an instrument of this kind can show.</param>
    public static string Refusal(string typed, Interval range)
    {
        var parts = Parts(typed);
        var wrong = parts.Where(p => FieldText.Number(p) is not { } number || !range.Contains(number)).ToArray();
        var right = $"give a number from {Of(range.Lower)} to {Of(range.Upper)}";
        return (parts.Length, wrong.Length) switch
        {
            (0, _) => $"nothing was typed: {right}",
            (_, 0) => "",
            (1, _) => $"{Short(typed)} was not taken: {right}",
            _ => $"{Short(typed)} was not taken, since {Short(string.Join(", ", wrong))} is no such reading: {right}, several with spaces between",
        };
    }

    /// <summary>What becomes of it, on one line, while it stands in the field and is not taken; empty where nothing stands there.</summary>
    public static string Left(string typed, Interval range)
    {
        ArgumentNullException.ThrowIfNull(typed);
        if (typed.Trim().Length == 0)
        {
            return "";
        }

        var refusal = Refusal(typed, range);
        var count = Parts(typed).Length;
        return refusal.Length > 0 ? refusal.Replace("was not taken", "is not taken", StringComparison.Ordinal)
            : count == 1 ? $"{Short(typed)} is not taken yet: Enter takes it"
            : $"{Short(typed)} is not taken yet: Enter takes the {count.ToString(CultureInfo.InvariantCulture)} readings";
    }

    /// <summary>Why a reading is not taken that is fine by itself, on one line: the sheet is closed.</summary>
    public static string Closed(string typed)
    {
        ArgumentNullException.ThrowIfNull(typed);
        return $"{Short(typed.Trim())} was not taken: the sheet is closed by its decision; open it again at Decide, then type it anew";
    }

    public static string Of(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);

    /// <summary>A comma before a space divides, any other is a decimal one.</summary>
    private static string[] Parts(string typed)
    {
        ArgumentNullException.ThrowIfNull(typed);
        return [.. typed.Split([' ', '\t', '\r', '\n', ';'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Select(p => p.TrimEnd(',')).Where(p => p.Length > 0)];
    }

    private static string Short(string text) => text.Length <= MostShown ? text : text[..(MostShown - 3)] + "...";
}
