using System.Globalization;
using System.Text;

namespace Pairbench.Reporting;

/// <summary>Text from outside made safe to print: no control characters, nothing that turns the direction of what follows, no broken characters.</summary>
public static class PlainText
{
    public static string Of(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var plain = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            if (rune.Value is '\n' or '\t' || !Refused(rune))
            {
                plain.Append(rune.ToString());
            }
        }

        return plain.ToString();
    }

    private static bool Refused(Rune rune) =>
        Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control
        || rune.Value is (>= 0x202A and <= 0x202E) or (>= 0x2066 and <= 0x2069) or 0xFFFE or 0xFFFF;
}
