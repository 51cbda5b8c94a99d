using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;

namespace Pairbench.Footwear.PairMatch;

/// <summary>Where a landmark usually lies in one view.</summary>
/// <param name="DepthMm">From the measured plane towards the camera.</param>
public sealed record UsualDepth(double DepthMm, [Range(0, 200)] double StandardUncertaintyMm)
{
    /// <summary>What all landmarks of a pair may lie deeper or less deep by together, in proportion, standard uncertainty in mm; none where the depth is stated.</summary>
    internal double TogetherMm { get; init; }
}

/// <param name="Where">In words, for who clicks it.</param>
/// <param name="Depths">By view.</param>
public sealed record LandmarkEntry([RegularExpression(Footwear.Id.Pattern)] string Id, string Label, string Where, ImmutableDictionary<string, UsualDepth> Depths);

/// <summary>A feature of the trade, offered.</summary>
/// <param name="LimitMm">Largest usual difference between left and right.</param>
/// <param name="Source">Where the limit comes from, or "common practice, no source".</param>
public sealed record FeatureOffer([RegularExpression(Footwear.Id.Pattern)] string Id, string Label, string View, string From, string To, Along Along, double LimitMm, string Source);

/// <summary><c>data/pair-match/landmarks.json</c>: landmarks of the trade with their usual depths, and features made of them.</summary>
/// <param name="Outline">Where the outline of a shoe usually lies, by view.</param>
public sealed record LandmarkCatalogue(string Edition, string Source, UsualDepth Unknown, ImmutableDictionary<string, UsualDepth> Outline, ImmutableArray<LandmarkEntry> Landmarks, ImmutableArray<FeatureOffer> Features)
{
    public const string File = "pair-match/landmarks.json";
}
