using System.Globalization;
using System.Text.RegularExpressions;

namespace Pairbench.Footwear;

/// <summary>Sizes as they are written: 42, 8.5, 8,5, 8½, 42 2/3, 10C.</summary>
internal static partial class WrittenSize
{
    /// <summary>The number of a size; null where it is none.</summary>
    public static double? Read(string written) => Parts(written)?.Number;

    /// <summary>Whether two are one size, however each is written. Letters count: 10C is another size than 10. What is no size is compared as text.</summary>
    public static bool AreOne(string a, string b) => (Parts(a), Parts(b)) switch
    {
        ({ } x, { } y) => Math.Abs(x.Number - y.Number) < 1e-9 && string.Equals(x.Letters, y.Letters, StringComparison.OrdinalIgnoreCase),
        (null, null) => string.Equals(a.Trim(), b.Trim(), StringComparison.OrdinalIgnoreCase),
        _ => false,
    };

    private static (double Number, string Letters)? Parts(string written)
    {
        ArgumentNullException.ThrowIfNull(written);
        var text = written.Trim().Replace("½", " 1/2", StringComparison.Ordinal).Replace("⅓", " 1/3", StringComparison.Ordinal).Replace("⅔", " 2/3", StringComparison.Ordinal).Replace(',', '.');
        if (Form().Match(text) is not { Success: true } match)
        {
            return null;
        }

        var whole = double.Parse(match.Groups["whole"].Value, CultureInfo.InvariantCulture);
        var letters = match.Groups["letters"].Value;
        return match.Groups["of"] is not { Success: true } of ? (whole, letters)
            : double.Parse(of.Value, CultureInfo.InvariantCulture) is var parts and > 0 ? (whole + (double.Parse(match.Groups["part"].Value, CultureInfo.InvariantCulture) / parts), letters)
            : null;
    }

    [GeneratedRegex(@"\A(?<whole>\d{1,3}(\.\d{1,2})?)(\s+(?<part>[12])/(?<of>[23]))?\s*(?<letters>[A-Za-z]{0,2})\z")]
    private static partial Regex Form();
}
