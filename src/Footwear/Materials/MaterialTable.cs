using System.Collections.Immutable;
using Pairbench.Footwear.Hardness;

namespace Pairbench.Footwear.Materials;

/// <summary>The values of the materials that an examination used, as a table of its outcome.</summary>
public static class MaterialTable
{
    public static Table Of(IEnumerable<Material> materials) => new(
        "materials",
        "Material values used",
        [new("material", "Material"), new("quantity", "Quantity"), new("value", "Value"), new("status", "Read or from memory"), new("source", "Source")],
        [.. materials.DistinctBy(m => m.Id).SelectMany(m => Rows(m))]);

    public static string Words(ValueStatus status) => status switch
    {
        ValueStatus.Seen => "read in the source",
        ValueStatus.Memory => "from memory",
        ValueStatus.Computed => "computed",
        _ => "common practice, no source",
    };

    private static IEnumerable<ImmutableArray<Cell>> Rows(Material m)
    {
        foreach (var (name, value) in new[]
        {
            ("conductivity", m.Conductivity),
            ("density", m.Density),
            ("specific heat", m.SpecificHeat),
            ("safe process temperature", m.Limit),
            ("softening", m.Softening),
            ("melting", m.Melting),
            ("moisture regain at 65 % humidity", m.Regain),
        })
        {
            if (value is not null)
            {
                yield return [m.Id, name, value.Measured, Words(value.Status), value.Source];
            }
        }
    }
}
