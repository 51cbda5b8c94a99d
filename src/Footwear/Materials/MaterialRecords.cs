using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Hardness;

namespace Pairbench.Footwear.Materials;

/// <summary>What one source says of one property of a material; sources that disagree stand side by side.</summary>
/// <param name="Low">Equal to <paramref name="High"/> for one figure; null where the source says that there is none.</param>
/// <param name="Form">Of the material, such as fibre or fabric.</param>
public sealed record MaterialRecord(
    string Material,
    string Property,
    string Source,
    ValueStatus Status,
    string Unit = "",
    double? Low = null,
    double? High = null,
    string Form = "",
    string SeenIn = "",
    string Note = "")
{
    /// <summary>The property as it is said.</summary>
    public string PropertyWords => Property.Replace('-', ' ');

    /// <summary>Figure or range with its unit.</summary>
    public string Words => (Low, High) switch
    {
        ({ } low, { } high) when low == high => FormattableString.Invariant($"{low:0.####} {Shown}"),
        ({ } low, { } high) => FormattableString.Invariant($"{low:0.####} to {high:0.####} {Shown}"),
        _ => "none",
    };

    private string Shown => Unit switch { "C" => "°C", "g/cm3" => "g/cm³", _ => Unit.Replace(' ', '·') };
}

/// <summary>All that was read or remembered of materials, from which the cards were chosen.</summary>
public sealed record MaterialRecords(string Edition, string Source, [MinLength(1)] ImmutableArray<MaterialRecord> Records)
{
    public const string File = "materials/records.json";

    /// <summary>What sources say of the material of a card, whichever name they use for it.</summary>
    /// <param name="card">Id of the card.</param>
    public static ImmutableArray<MaterialRecord> Of(Catalogue catalogue, string card)
    {
        ArgumentNullException.ThrowIfNull(catalogue);
        var shelf = MaterialShelf.Of(catalogue, [], []);
        var names = catalogue.Read<MaterialRecords>(File).Records.Select(r => r.Material).Distinct().Where(n => shelf.Find(n, "", [])?.Id == card).ToHashSet(StringComparer.Ordinal);
        return [.. catalogue.Read<MaterialRecords>(File).Records.Where(r => names.Contains(r.Material)).OrderBy(r => r.Property, StringComparer.Ordinal)];
    }
}
