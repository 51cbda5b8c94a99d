using System.Text.RegularExpressions;

namespace Pairbench.Bench.Examinations.Cost;

/// <summary>Which places of a change have a field on the page: what is wrong there stands at the field, the rest below.</summary>
internal static partial class FieldsOfChange
{
    /// <param name="place">Place within the change, such as <c>oven[1].layer</c>.</param>
    /// <param name="absent">Parts of a change that this page does not ask for now.</param>
    public static bool Has(string place, IEnumerable<string> absent) => Fields().IsMatch(place) && !absent.Any(a => place.StartsWith(a, StringComparison.Ordinal));

    [GeneratedRegex(@"\A(?:words|origin|labourRatePerHour|freight|freightPerShipment|dutyRate\.adValoremPct|facts\.outerSole\.groundContactPct\.(?:textile|rubber-plastics|leather)|lines\[\d+\]\.(?:id|material|price|priceTimes|netAreaDm2|wastePct)|oven\[\d+\]\.(?:layer|material|thicknessMm|fitted)|strobel\.(?:board\[0\]|sock\.(?:material|netAreaDm2|gramsPerM2|price)|lessDm2|lasted\[\d+\]\.(?:line|sharePct)))(?:\.value)?\z")]
    private static partial Regex Fields();
}
