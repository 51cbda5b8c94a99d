using System.Collections.Immutable;
using Pairbench.Measuring;
using static Pairbench.Footwear.Plain;

namespace Pairbench.Footwear.Hardness;

/// <summary>A soft backing whose own stuff is known, as the lowest part of a stack.</summary>
/// <param name="Known">Its modulus, or what it reads by itself.</param>
internal sealed record KnownBacking(SoftBacking Stated, Measured Known, ProbeModel Model)
{
    /// <param name="read">What the backing reads by itself, where it was read.</param>
    public static KnownBacking? Of(SoftBacking? stated, Measured? read, ProbeModel model) =>
        stated is not null && (stated.ModulusMPa ?? read) is { } known ? new(stated, known, model) : null;

    /// <summary>What a stack on it is built from beside its own sheets.</summary>
    public ImmutableArray<Measured> Givens => Stated.ThicknessMm is { } deep ? [Known, deep] : [Known];

    /// <summary>Why its stuff is not known after all, and what would help; null where it is.</summary>
    public (string Words, string Remedy)? WhyNot => Stated switch
    {
        { ModulusMPa: null } when ThickEstimate.IsAtEnd(Known) => ($"on what lies beneath it {ThickEstimate.AtEnd(Known)}", "Read the backing on another scale and give its modulusMPa, or read the pad on the bench."),
        { ModulusMPa: null, ThicknessMm: { } thin } when !Model.Follows(Known.Value, thin.Value) || Model.IsDeep(Known.Value, thin.Value) || Model.Thick(Known.Value, thin.Value, LayerBase.Bonded) <= 0 =>
            (FormattableString.Invariant($"the backing itself, {Number(thin.Value)} mm, is too thin for its reading of {Number(Known.Value)}"), "Read the pad on the bench, or on a thicker backing."),
        _ => null,
    };

    /// <summary>Sheets on the backing, and on a hard base beneath that where its thickness is known.</summary>
    /// <param name="givens">Values of <see cref="Givens"/>.</param>
    public LayeredGround Under(ImmutableArray<ElasticSheet> sheets, ReadOnlySpan<double> givens)
    {
        var stuff = Stated.ModulusMPa is not null
            ? new ElasticStuff(givens[0], Model.Poisson)
            : Model.Stuff(givens.Length > 1 ? Model.Thick(givens[0], givens[1], LayerBase.Bonded) : givens[0]);
        return givens.Length > 1 ? new([.. sheets, new(stuff, givens[1], LayerBase.Bonded)], null) : new(sheets, stuff);
    }
}
