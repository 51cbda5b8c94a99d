using System.Globalization;
using System.Text.Json.Nodes;
using Pairbench.Footwear;

namespace Pairbench.Bench.Fields;

/// <summary>A customary unit in which a field may be filled in place of the unit that is kept.</summary>
/// <param name="Kept">The unit that is kept, as people write it.</param>
/// <param name="Words">The customary unit as people write it.</param>
/// <param name="Factor">One of it in the unit that is kept.</param>
/// <param name="Zero">What it reads where the unit that is kept reads zero.</param>
public sealed record FieldUnit(string Kept, string Words, decimal Factor, decimal Zero)
{
    private const int KeptDecimals = 6;
    private const int ShownDecimals = 5;

    /// <summary>Null for a unit that has no customary fellow on the bench.</summary>
    /// <param name="unit">The unit that is kept, as people write it.</param>
    public static FieldUnit? For(string unit) => unit switch
    {
        "mm" => new FieldUnit(unit, "in", 25.4m, 0),
        "°C" => new FieldUnit(unit, "°F", 1 / 1.8m, 32),
        _ => null,
    };

    /// <summary>What is kept for a typed number; null where it is none.</summary>
    public JsonNode? Stored(string typed) => FieldText.Number(typed) is { } number && Math.Abs(number) < 1e9
        ? JsonValue.Create((double)Math.Round(((decimal)number - Zero) * Factor, KeptDecimals))
        : null;

    /// <summary>What is shown for a kept number; null where it is none.</summary>
    public string? Shown(string stored) => FieldText.Number(stored) is { } number && Math.Abs(number) < 1e9
        ? Math.Round(((decimal)number / Factor) + Zero, ShownDecimals).ToString("0.#####", CultureInfo.InvariantCulture)
        : null;

    /// <summary>A fault of a number, in the customary unit as the field shows it, with what would be right in both; of anything else as it stands, with the unit that its numbers are in.</summary>
    public string Told(Fault fault)
    {
        ArgumentNullException.ThrowIfNull(fault);
        return fault.Outside is { } outside
            ? $"is {Shown(outside.Number)} {Words}; {outside.Range.Words(Shown)} {Words}, which is {outside.Range.Ends} {Kept}"
            : $"{fault.What}; {fault.WouldBeRight}{(fault.WouldBeRight.Any(char.IsDigit) ? $" (in {Kept})" : "")}";
    }

    private string Shown(double kept) => Shown(kept.ToString("R", CultureInfo.InvariantCulture)) ?? kept.ToString(CultureInfo.InvariantCulture);
}
