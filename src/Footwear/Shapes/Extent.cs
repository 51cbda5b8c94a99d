using System.Globalization;
using System.Text.RegularExpressions;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Shapes;

/// <summary>A number as far as it is known: measured, or a range in words such as <c>&gt;50</c>, <c>&lt;=0.25</c> or <c>0.125-0.5</c>. A number may have a comma for its point.</summary>
/// <param name="Measured">Null where only a range or free words were given.</param>
/// <param name="Words">As given; empty for a number.</param>
public sealed partial record Extent(Measured? Measured, double Low, bool LowIncluded, double High, bool HighIncluded, string Words)
{
    private const string Digits = "[0-9]{1,15}(?:[.,][0-9]{1,15})?";

    /// <summary>The 95 % interval of a measured number, the number itself where it is exact.</summary>
    public static Extent Of(Measured measured)
    {
        ArgumentNullException.ThrowIfNull(measured);
        var interval = measured.CoverageInterval();
        return new Extent(measured, interval.Lower, true, interval.Upper, true, "");
    }

    /// <summary>Words that hold no single number or range say nothing of it: the range is then open at both ends.</summary>
    public static Extent Parse(string words)
    {
        ArgumentNullException.ThrowIfNull(words);
        var text = Bare(words);
        if (Compared().Match(text) is { Success: true } compared)
        {
            var number = Number(compared.Groups[2].Value);
            var equal = compared.Groups[1].Value.EndsWith('=');
            return compared.Groups[1].Value[0] == '>'
                ? new Extent(null, number, equal, double.PositiveInfinity, false, words)
                : new Extent(null, double.NegativeInfinity, false, number, equal, words);
        }

        return Ends(text) is { } ends && Number(ends.First) <= Number(ends.Second)
            ? new Extent(null, Number(ends.First), true, Number(ends.Second), true, words)
            : Alone().IsMatch(text) && Number(text) is var alone
                ? Of(Measuring.Measured.Exact(alone, "")) with { Words = words }
                : new Extent(null, double.NegativeInfinity, false, double.PositiveInfinity, false, words);
    }

    public bool SaysNothing => double.IsInfinity(Low) && double.IsInfinity(High);

    public bool MayBe(double value) => (value > Low || (LowIncluded && value == Low)) && (value < High || (HighIncluded && value == High));

    /// <summary>Whether some value of the open range between two numbers may be it.</summary>
    public bool MayLieBetween(double low, double high) => Low < high && High > low && (Low < High || (Low > low && Low < high));

    public bool Meets(Extent other)
    {
        ArgumentNullException.ThrowIfNull(other);
        var low = Math.Max(Low, other.Low);
        var high = Math.Min(High, other.High);
        return low < high || (low == high && MayBe(low) && other.MayBe(low));
    }

    public override string ToString() => Words.Length > 0 ? Words : Measured is { } m ? Display.Of(m) : $"{Low:0.###} to {High:0.###}";

    /// <summary>With its unit, which words of a range do not carry.</summary>
    public string In(string unit) => Words.Length == 0 && Measured is not null ? ToString() : $"{this} {unit}";

    /// <summary>Whether words that hold no single number or range still speak of an amount, as those of letters do: <c>substantially all</c>, <c>0.25 at toe, less elsewhere</c>.</summary>
    /// <remarks>Digits and signs without a word, such as <c>1e12</c> or <c>1.234,5</c>, are a number or a range that was mistyped.</remarks>
    public static bool SpeaksOfAnAmount(string words)
    {
        var amount = Signs().Replace(words, "");
        return AmountWords().IsMatch(amount) || (AnyDigit().IsMatch(amount) && AnyWord().IsMatch(amount));
    }

    /// <summary>A range that names its larger end first, the other way round; null for all other words.</summary>
    public static string? TurnedRound(string words) => Ends(Bare(words)) is { } ends && Number(ends.First) > Number(ends.Second) ? $"{ends.Second}-{ends.First}" : null;

    private static string Bare(string words) => Signs().Replace(words, m => SignOf(m.Value)).Replace(" ", "", StringComparison.Ordinal).Replace("%", "", StringComparison.Ordinal);

    private static (string First, string Second)? Ends(string bare) => Between().Match(bare) is { Success: true } between ? (between.Groups[1].Value, between.Groups[2].Value) : null;

    private static double Number(string text) => double.Parse(text.Replace(',', '.'), CultureInfo.InvariantCulture);

    [GeneratedRegex($"^(?:{Digits}|[0-9]{{1,15}}[.,]|[.,][0-9]{{1,15}})$")]
    private static partial Regex Alone();

    [GeneratedRegex("[0-9]")]
    private static partial Regex AnyDigit();

    [GeneratedRegex(@"\p{L}{2}")]
    private static partial Regex AnyWord();

    [GeneratedRegex($"^(>=|<=|>|<)({Digits})$")]
    private static partial Regex Compared();

    private static string SignOf(string words) => words.Trim().ToLowerInvariant() switch
    {
        "at least" or "not under" or "\u2265" => ">=",
        "at most" or "not over" or "up to" or "\u2264" => "<=",
        "over" or "more than" or "above" => ">",
        _ => "<",
    };

    [GeneratedRegex(@"^\s*(?:at least|not under|at most|not over|up to|over|more than|above|under|less than|below|\u2265|\u2264)(?=[\s0-9])", RegexOptions.IgnoreCase)]
    private static partial Regex Signs();

    [GeneratedRegex(@"\b(?:all|almost|complete(?:ly)?|entire(?:ly)?|full(?:y)?|half|less|greater|greatest|majority|minority|more|most(?:ly)?|nearly|none|part(?:ial(?:ly)?|ly)?|predominant(?:ly)?|some|substantial(?:ly)?|whol(?:e|ly)|few|traces?)\b", RegexOptions.IgnoreCase)]
    private static partial Regex AmountWords();

    [GeneratedRegex($@"^({Digits})(?:-|\.\.|to)({Digits})$")]
    private static partial Regex Between();
}
