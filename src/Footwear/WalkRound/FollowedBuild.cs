using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.Change;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.WalkRound;

/// <summary>A review of a style as far as the life of findings goes: one pair of a build.</summary>
/// <param name="Id">Of the review.</param>
/// <param name="Build">Label of the build.</param>
/// <param name="Factory">Empty where it is not stated.</param>
public sealed record FollowedBuild(string Id, string Build, string Factory, DateOnly? Date)
{
    /// <summary>What was found on the pair; zone and correction may be left out.</summary>
    public ImmutableArray<PastFinding> Findings { get; init; } = [];

    /// <summary>Findings of earlier builds that its walk round asks for, with the answers.</summary>
    public ImmutableArray<CarriedFinding> Asked { get; init; } = [];

    /// <summary>What it asks of the factory.</summary>
    public Corrections Corrections { get; init; } = Corrections.None;

    /// <summary>With what its review says of findings of earlier builds and asks of the factory.</summary>
    public FollowedBuild With(Review review)
    {
        ArgumentNullException.ThrowIfNull(review);
        var (entries, _) = EntryList.Of(review.Evidence ?? ImmutableDictionary<string, JsonElement>.Empty);
        return this with
        {
            Asked = [.. entries.Where(e => e.Examination is WalkRoundExamination).SelectMany(e => ShapeReader.ReadKept<WalkRoundEvidence>(e.Evidence, out _).Carried)],
            Corrections = review.Corrections ?? Corrections.None,
        };
    }

    /// <summary>Whether two reviews are of pairs of one build.</summary>
    public bool IsOneWith(FollowedBuild other)
    {
        ArgumentNullException.ThrowIfNull(other);
        return (Build, Factory, Date) == (other.Build, other.Factory, other.Date);
    }

    /// <summary>Whether it is of the past of a build. Other pairs of that build are not; all other builds are where it has no date.</summary>
    public bool IsBefore(FollowedBuild build)
    {
        ArgumentNullException.ThrowIfNull(build);
        return Id != build.Id && !IsOneWith(build) && (Date ?? DateOnly.MinValue) <= (build.Date ?? DateOnly.MaxValue);
    }

    /// <summary>Who is to put a finding right, and by when.</summary>
    internal (string Owner, DateOnly? By) Owed(FullAddress finding)
    {
        var item = Corrections.Of(finding);
        return (item.Owner ?? "", item.By ?? Corrections.By);
    }
}
