using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Marking;

/// <summary>The tables of a marking: what stands where, what has to be said of the materials, what the law asks for.</summary>
internal static class MarkingTables
{
    public static Table Said(ImmutableArray<(MarkedPlace Place, string Name)> places, SizeSystems systems) => new(
        "labels",
        "What stands where",
        [new("place", "Place"), new("size", "Size"), new("origin", "Origin"), new("code", "Code"), new("colourway", "Colourway"), new("materials", "Materials")],
        [.. places.Select(p => ImmutableArray.Create<Cell>(
            p.Name,
            string.Join(", ", systems.Systems.Where(s => p.Place.Sizes?.ContainsKey(s.Id) == true).Select(s => $"{s.Label} {p.Place.Sizes![s.Id]}")),
            p.Place.Origin ?? "",
            p.Place.Code ?? "",
            p.Place.Colourway ?? "",
            string.Join("; ", p.Place.Materials.Select(m => $"{EnumWords.Of(m.Part).Replace('-', ' ')}: {CompositionStatement.Words(m.Materials)}"))))]);

    public static Table Statements(ImmutableArray<CompositionStatement> statements, ImmutableArray<(MarkedPlace Place, string Name)> places) => new(
        "materials",
        "What the label has to say of the materials",
        [new("part", "Part"), new("must", "To be stated"), new("alone", "Chance that one is stated alone"), new("said", "Said"), new("because", "Why")],
        [.. statements.Select(s => ImmutableArray.Create<Cell>(
            s.Part.Label,
            s.Must.IsEmpty ? $"undecided: {string.Join(" or ", s.May.Select(CompositionStatement.Words))}" : CompositionStatement.Words(s.Must),
            Measured.Exact(Math.Round(100 * s.SingleChance, 1), "%"),
            string.Join("; ", places.SelectMany(p => p.Place.Materials.Where(m => m.Part == s.Part.Part).Select(m => $"{p.Name}: {CompositionStatement.Words(m.Materials)}"))),
            s.Because))]);

    public static Table Asked(ImmutableArray<MarkingRule> asked, ImmutableArray<MarkedPlace> places) => new(
        "asked",
        "What the law asks for",
        [new("market", "Market"), new("asks", "Asks for"), new("rule", "Rule"), new("found", "Found"), new("read", "Text of the rule")],
        [.. asked.Select(r => ImmutableArray.Create<Cell>(EnumWords.Of(r.Market), r.Asks, r.Reference, r.IsMetBy(places) ? "yes" : "no", r.Status == "memory" ? "from memory" : "read"))]);
}
