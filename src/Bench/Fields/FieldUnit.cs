using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Pairbench.Footwear;

namespace Pairbench.Bench.Fields;

/// <summary>A customary unit in which a field may be filled in place of the unit that is kept.</summary>
/// <param name="Kept">The unit that is kept, as people write it.</param>
/// <param name="Words">The customary unit as people write it.</param>
/// <param name="Factor">One of it in the unit that is kept.</param>
/// <param name="Zero">What it reads where the unit that is kept reads zero.</param>
public sealed partial record FieldUnit(string Kept, string Words, decimal Factor, decimal Zero)
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
        return Is().Match(fault.What) is { Success: true } what && Shown(what.Groups["number"].Value) is { } number && Right().IsMatch(fault.WouldBeRight)
            ? $"is {number} {Words}; {InBoth(fault.WouldBeRight)}"
            : $"{fault.What}; {fault.WouldBeRight}{InKept(fault.WouldBeRight)}";
    }

    /// <summary>The customary numbers of a sentence in words for which numbers are right.</summary>
    private string InBoth(string right) =>
        $"{Number().Replace(right, n => Shown(n.Value) ?? n.Value)} {Words}, which is {string.Join(" to ", Number().Matches(right).Select(n => n.Value))} {Kept}";

    private string InKept(string right) => Number().IsMatch(right) ? $" (in {Kept})" : "";

    [GeneratedRegex(@"\Ais (?<number>-?\d+(\.\d+)?)\z")]
    private static partial Regex Is();

    [GeneratedRegex(@"\Agive a number (from|above) -?\d+(\.\d+)?( (to|to below) -?\d+(\.\d+)?)?\z")]
    private static partial Regex Right();

    [GeneratedRegex(@"-?\d+(\.\d+)?")]
    private static partial Regex Number();
}
