using System.Globalization;
using System.Text.Json.Nodes;
using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Bench.Fields;

/// <summary>A customary unit in which a field may be filled in place of the unit that is kept; both UCUM.</summary>
public sealed record FieldUnit(string Kept, string Customary)
{
    private const int ShownDecimals = 5;

    /// <summary>Null for a unit that has no customary fellow.</summary>
    /// <param name="unit">The UCUM unit that is kept.</param>
    public static FieldUnit? For(string unit) => CustomaryUnits.For(unit) is var customary && customary != unit ? new FieldUnit(unit, customary) : null;

    /// <summary>What is kept for a typed number; null where it is none.</summary>
    public JsonNode? Stored(string typed) => Turned(typed, Customary, Kept) is { } kept ? JsonValue.Create(kept) : null;

    /// <summary>What is shown for a kept number; null where it is none.</summary>
    public string? Shown(string stored) => Turned(stored, Kept, Customary) is { } shown ? (Math.Round(shown, ShownDecimals) + 0.0).ToString("0.#####", CultureInfo.InvariantCulture) : null;

    /// <summary>A fault of a number, in the customary unit as the field shows it, with what would be right in both; of anything else as it stands.</summary>
    public string Told(Fault fault)
    {
        ArgumentNullException.ThrowIfNull(fault);
        var (kept, customary) = (Units.Shown(Kept), Units.Shown(Customary));
        return fault.Outside is { } outside
            ? $"is {Shown(outside.Number)} {customary}; {outside.Range.Words(Shown)} {customary}, which is {outside.Range.Ends} {kept}"
            : $"{fault.What}; {fault.WouldBeRight}";
    }

    private string Shown(double kept) => Shown(kept.ToString("R", CultureInfo.InvariantCulture)) ?? kept.ToString(CultureInfo.InvariantCulture);

    private static double? Turned(string number, string from, string to) => FieldText.Number(number) is { } value && Math.Abs(value) < 1e9 ? CustomaryUnits.Turned(value, from, to) : null;
}
