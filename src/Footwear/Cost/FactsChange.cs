using System.Collections.Immutable;
using Pairbench.Footwear.Duty;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;
using LawMaterials = Pairbench.Footwear.Duty.Materials;

namespace Pairbench.Footwear.Cost;

/// <summary>The facts of a shoe of which some are changed.</summary>
internal static class FactsChange
{
    /// <summary>What the change states goes before what was known, and what rested on the old fact is not known any more: shares beside another material that leads, fibre, coat, print, weights and tests of the upper beside another upper.</summary>
    public static ShoeFacts Of(ShoeFacts facts, ShoeFacts change)
    {
        var (upper, sole) = (facts.Upper ?? new UpperFacts(), facts.OuterSole ?? new OuterSoleFacts());
        if (change.Upper is { } other && (other.Material is not null || other.ExternalAreaPct is { IsEmpty: false }))
        {
            if (IsOfOtherStuff(upper, other))
            {
                upper = upper with { Fibre = null, PlasticCoatMm = null };
            }

            upper = upper with { Material = null, ExternalAreaPct = null, ExternalAreaWithAccessoriesPct = null, Over50LeatherWithAccessories = null, Over90RubberPlasticsWithAccessories = null, PrintedLines = null };
            facts = facts with { WeightPct = null };
        }

        var asked = change.OuterSole ?? new OuterSoleFacts();
        var shares = sole.GroundContactPct;
        if (asked.GroundContactPct is { IsEmpty: false } || asked.GreatestContact is not null)
        {
            sole = sole with { GreatestContact = null, CountedMaterial = null, GroundContactPct = null };
        }

        var laid = Laid(facts with { Upper = upper, OuterSole = sole }, change);
        return asked.GroundContactPct is { IsEmpty: false } named && shares is not null ? laid with { OuterSole = laid.OuterSole! with { GroundContactPct = Moved(shares, named) } } : laid;
    }

    /// <summary>Named materials take the shares given; the others share what is left in the proportion they had, as a boundary that moves leaves them. Shares that are no numbers are dropped.</summary>
    internal static ImmutableDictionary<string, Extent> Moved(ImmutableDictionary<string, Extent> before, ImmutableDictionary<string, Extent> named)
    {
        var laws = named.Keys.Select(LawMaterials.Law).ToHashSet(StringComparer.Ordinal);
        var others = before.Where(s => !laws.Contains(LawMaterials.Law(s.Key)) && s.Value.Measured is not null).Select(s => (s.Key, Share: s.Value.Measured!)).ToArray();
        var whole = others.Length == 0 ? null : Measured.Linear("%", [.. others.Select(o => (o.Share, 1.0))]);
        if (whole is not { Value: > 0 } || named.Values.Any(s => s.Measured is null))
        {
            return named;
        }

        var left = Measured.Linear("%", [(Measured.Exact(100, "%"), 1), .. named.Values.Select(s => (s.Measured!, -1.0))]);
        if (left.Value < 0 || named.Values.Any(s => s.Measured!.Value < 0))
        {
            return named;
        }

        return named.AddRange(others.Select(o => KeyValuePair.Create(o.Key, Extent.Of(others.Length == 1 ? left : Measured.Product(left, Measured.Ratio(o.Share, whole, "1"), "%")))));
    }

    /// <summary>Whether the new upper leads with or shows a material that the old did not; what was known of the fibre and the coat of the old then says nothing of it.</summary>
    private static bool IsOfOtherStuff(UpperFacts was, UpperFacts now)
    {
        static IEnumerable<string?> Of(UpperFacts upper) => (upper.ExternalAreaPct?.Keys ?? []).Append(upper.Material ?? "").Where(m => m.Length > 0).Select(LawMaterials.Law);
        return now.Material is { } leads && was.Material is { } led ? LawMaterials.Law(leads) != LawMaterials.Law(led) : Of(now).Except(Of(was)).Any();
    }

    private static T Laid<T>(T below, T above)
        where T : class
    {
        var constructor = Shape.ConstructorOf(typeof(T));
        return (T)constructor.Invoke([.. constructor.GetParameters().Select(p =>
        {
            var field = typeof(T).GetProperty(p.Name!)!;
            return (field.GetValue(below), field.GetValue(above)) switch
            {
                (var was, null or ImmutableDictionary<string, Extent> { IsEmpty: true }) => was,
                (UpperFacts was, UpperFacts now) => Laid(was, now),
                (OuterSoleFacts was, OuterSoleFacts now) => Laid(was, now),
                (BandFacts was, BandFacts now) => Laid(was, now),
                (CleatFacts was, CleatFacts now) => Laid(was, now),
                (_, var now) => now,
            };
        })]);
    }
}
