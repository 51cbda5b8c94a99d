using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Marking;

/// <summary>What a label has to say of one part.</summary>
/// <param name="Must">Materials that have to be stated, the main one first; empty while undecided.</param>
/// <param name="May">Each statement that is still possible, where the shares leave it open.</param>
/// <param name="SingleChance">Probability that the main material reaches the share from which it is stated alone.</param>
/// <param name="Because">Why, in a sentence.</param>
internal sealed record CompositionStatement(StatedPartRule Part, ImmutableArray<StatedMaterial> Must, ImmutableArray<ImmutableArray<StatedMaterial>> May, double SingleChance, string Because)
{
    private const double Sure = 0.95;

    public static CompositionStatement Of(PartComposition composition, CompositionRule rule)
    {
        var part = rule.Parts.First(p => p.Part == composition.Part);
        var shares = composition.Stated.OrderByDescending(s => s.Share.Value).ToImmutableArray();
        var (main, share) = shares[0];
        var single = new Limit(rule.Single, null, Severity.Major, rule.Reference).Conformance(share);
        var others = shares.Skip(1).Where(s => s.Share.Value > 0).ToImmutableArray();
        if (single >= Sure || others.IsEmpty)
        {
            return new(part, [main], [[main]], single, $"{Words(main)} makes {Display.Of(share)} of the {part.Basis}: from {rule.Single:0} % on it is stated alone.");
        }

        // Two are the main ones unless a third is surely ahead of the lesser of them.
        var pairs = shares.SelectMany((x, i) => shares.Skip(i + 1).Select(y => (First: x, Second: y)))
            .Where(p => p.Second.Share.Value > 0 && shares.All(o => o == p.First || o == p.Second || Ahead(o.Share, p.Second.Share) < Sure))
            .Select(p => ImmutableArray.Create(p.First.Material, p.Second.Material))
            .ToImmutableArray();
        if (single <= 1 - Sure && pairs.Length == 1)
        {
            return new(part, pairs[0], pairs, single, $"{Words(main)} makes {Display.Of(share)} of the {part.Basis}, less than {rule.Single:0} %: the two main materials are stated.");
        }

        ImmutableArray<ImmutableArray<StatedMaterial>> may = [.. single > 1 - Sure ? [[main]] : Array.Empty<ImmutableArray<StatedMaterial>>(), .. pairs];
        return new(part, [], may, single, $"{Words(main)} makes {Display.Of(share)} of the {part.Basis}; that leaves open {string.Join(" or ", may.Select(Words))}.");
    }

    /// <summary>Whether a statement is what has to be said; null while that is undecided and this is one of the possible ones.</summary>
    public bool? Allows(ImmutableArray<StatedMaterial> stated)
    {
        bool Same(ImmutableArray<StatedMaterial> other) => stated.ToHashSet().SetEquals(other);
        return Must.IsEmpty ? (May.Any(Same) ? null : false) : Same(Must);
    }

    public static string Words(ImmutableArray<StatedMaterial> materials) => string.Join(" and ", materials.Select(Words));

    public static string Words(StatedMaterial material) => material switch
    {
        StatedMaterial.Leather => "leather",
        StatedMaterial.CoatedLeather => "coated leather",
        StatedMaterial.Textile => "textile",
        _ => "other materials",
    };

    private static double Ahead(Measured first, Measured second)
    {
        var lead = first - second;
        return lead.IsExact ? (lead.Value > 0 ? 1 : 0.5) : 1 - lead.ProbabilityAtMost(0);
    }
}
