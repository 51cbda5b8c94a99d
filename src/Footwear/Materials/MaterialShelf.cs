using System.Collections.Immutable;
using System.Text;
using Pairbench.Footwear.Hardness;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Materials;

/// <summary>The cards of <c>data/materials/</c> with those of the review over them, found by id, name or another name.</summary>
public sealed class MaterialShelf
{
    private readonly ImmutableDictionary<string, Material> _byName;

    private MaterialShelf(ImmutableDictionary<string, Material> byName, ImmutableArray<Material> all) => (_byName, All) = (byName, all);

    public ImmutableArray<Material> All { get; }

    /// <param name="own">Cards of the review.</param>
    /// <param name="faults">Takes what is wrong with them.</param>
    public static MaterialShelf Of(Catalogue catalogue, ImmutableArray<MaterialOfReview> own, ICollection<Fault> faults)
    {
        ArgumentNullException.ThrowIfNull(catalogue);
        ArgumentNullException.ThrowIfNull(faults);
        var names = new Dictionary<string, Material>(StringComparer.Ordinal);
        var all = new List<Material>();
        foreach (var card in catalogue.Read<CardsFile>(CardsFile.File).Cards)
        {
            var material = FromData(card);
            all.Add(material);
            foreach (var name in card.Aliases.Prepend(card.Name).Prepend(card.Id))
            {
                names[IdOf(name)] = material;
            }
        }

        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (card, i) in own.Select((c, i) => (c, i)))
        {
            var name = IdOf(card.Material);
            if (name.Length == 0)
            {
                faults.Add(new Fault($"materials[{i}].material", $"'{card.Material}' has no letter or digit", "give the name of a material"));
            }
            else if (!seen.Add(names.TryGetValue(name, out var known) ? known.Id : name))
            {
                faults.Add(new Fault($"materials[{i}].material", $"'{card.Material}' names a material that has a card above", "give one card for each material"));
            }
            else
            {
                var over = Over(known, card, name);
                names[name] = over;
                foreach (var other in names.Where(n => n.Value.Id == over.Id).Select(n => n.Key).ToList())
                {
                    names[other] = over;
                }

                all.RemoveAll(m => m.Id == over.Id);
                all.Add(over);
            }
        }

        return new(names.ToImmutableDictionary(StringComparer.Ordinal), [.. all]);
    }

    /// <summary>The material of a name; a fault and null where there is none.</summary>
    public Material? Find(string name, string where, ICollection<Fault> faults)
    {
        ArgumentNullException.ThrowIfNull(faults);
        if (_byName.TryGetValue(IdOf(name), out var material))
        {
            return material;
        }

        var close = All.Where(m => IdOf(name).Split('-').Any(w => w.Length > 2 && m.Id.Contains(w, StringComparison.Ordinal))).Select(m => m.Id).ToList();
        faults.Add(new Fault(where, $"'{name}' has no card", $"name a card of data/{CardsFile.File}{(close.Count > 0 ? $" such as {string.Join(", ", close)}" : "")}, or give it under materials"));
        return null;
    }

    /// <summary>A material that the oven can be reckoned with: one with conductivity, density and specific heat.</summary>
    public Material? FindConducting(string name, string where, ICollection<Fault> faults)
    {
        var found = Find(name, where, faults);
        if (found is null || found.Conducts)
        {
            return found;
        }

        var missing = new[] { ("conductivityWmK", found.Conductivity), ("densityKgM3", found.Density), ("specificHeatJkgK", found.SpecificHeat) }.Where(p => p.Item2 is null).Select(p => p.Item1);
        faults.Add(new Fault(where, $"the card of '{name}' lacks {string.Join(", ", missing)}", "give them in its card under materials"));
        return null;
    }

    /// <summary>Small letters and digits with single hyphens.</summary>
    public static string IdOf(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var id = new StringBuilder(name.Length);
        foreach (var c in name)
        {
            if (char.IsAsciiLetterOrDigit(c))
            {
                id.Append(char.ToLowerInvariant(c));
            }
            else if (id.Length > 0 && id[^1] != '-')
            {
                id.Append('-');
            }
        }

        return id.ToString().TrimEnd('-');
    }

    private static Material FromData(CardOfData card) => new(
        card.Id,
        card.Name,
        card.Kind,
        card.ConductivityWmK.As("W/(m.K)", $"conductivity:{card.Id}"),
        card.DensityKgM3.As("kg/m3", $"density:{card.Id}"),
        card.SpecificHeatJkgK.As("J/(kg.K)", $"specific-heat:{card.Id}"),
        card.LimitC?.As("Cel", $"limit:{card.Id}"),
        card.SofteningC?.As("Cel", $"softening:{card.Id}"),
        card.MeltingC?.As("Cel", $"melting:{card.Id}"),
        card.RegainPct?.As("%", $"regain:{card.Id}"),
        card.Cells,
        card.Cures,
        card.Note);

    private static Material Over(Material? known, MaterialOfReview own, string name)
    {
        MaterialValue? Take(Measured? given, MaterialValue? there) =>
            given is null ? there : new MaterialValue(given, own.Status ?? ValueStatus.Memory, own.Source ?? "given in the review, source not stated");
        return new(
            known?.Id ?? name,
            known?.Name ?? own.Material,
            own.Kind ?? known?.Kind ?? MaterialKind.Other,
            Take(own.ConductivityWmK, known?.Conductivity),
            Take(own.DensityKgM3, known?.Density),
            Take(own.SpecificHeatJkgK, known?.SpecificHeat),
            Take(own.LimitC, known?.Limit),
            Take(own.SofteningC, known?.Softening),
            Take(own.MeltingC, known?.Melting),
            Take(own.RegainPct, known?.Regain),
            own.Cells ?? known?.Cells ?? FoamCells.None,
            own.Cures ?? known?.Cures ?? own.Kind == MaterialKind.Rubber,
            known?.Note ?? "");
    }
}
