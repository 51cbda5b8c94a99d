using System.Text.RegularExpressions;

namespace Pairbench.Footwear.Marking;

/// <summary>Names of places, parts and materials in the form of ids.</summary>
internal static partial class MarkingIds
{
    public static string Of(Enum value) => Humps().Replace(value.ToString(), "-$1").ToLowerInvariant();

    [GeneratedRegex("(?<=[a-z])([A-Z])")]
    private static partial Regex Humps();
}
