using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Lot;

/// <summary>A pair of the sample that was looked at without a review of its own: what was found on it, counted.</summary>
/// <param name="Words">What was found, in a few words.</param>
public sealed record TalliedPair(string? Carton = null, string? Size = null, [Range(0, 1000)] int Critical = 0, [Range(0, 1000)] int Major = 0, [Range(0, 1000)] int Minor = 0, string? Words = null)
{
    /// <summary>Neither what pair it is nor what was found on it: nobody can have looked at it.</summary>
    internal bool SaysNothing => string.IsNullOrWhiteSpace(Carton) && string.IsNullOrWhiteSpace(Size) && string.IsNullOrWhiteSpace(Words) && Critical + Major + Minor == 0;
}

/// <summary>What a person decided on a lot, with the numbers that the next lots need.</summary>
/// <param name="InGap">Accepted in reduced inspection with more found than the acceptance number.</param>
/// <param name="Inspected">Pairs in the sample.</param>
/// <param name="Found">Defective pairs in the sample.</param>
/// <param name="Reviewed">What was found on each pair that has a review, as it was decided on; absent in decisions of a time when it was not kept.</param>
/// <param name="History">Earlier lots, as they were decided on; absent as <paramref name="Reviewed"/> is.</param>
/// <param name="OpenedAgainOn">The day that it was taken back; absent while it stands.</param>
public sealed record LotDecision(
    bool Accepted,
    [MinLength(1), Description("who decided")] string By,
    DateOnly On,
    string? Reason = null,
    bool InGap = false,
    [Range(0, 1_000_000)] int Inspected = 0,
    [Range(0, 1_000_000)] int Found = 0,
    [MaxLength(5000)] ImmutableArray<CountOf>? Reviewed = null,
    [MaxLength(1000)] ImmutableArray<EarlierLot>? History = null,
    DateOnly? OpenedAgainOn = null);

/// <summary>A lot: what was shipped, how it is sampled, the pairs that were looked at, and what was decided.</summary>
/// <param name="LotSize">Pairs in the lot.</param>
/// <param name="Sizes">Pairs of each size.</param>
/// <param name="Seed">Of the draw of the pull list, a whole number from 0.</param>
/// <param name="Reviews">Ids of pair reviews that belong to the sample.</param>
/// <param name="Tallied">Pairs of the sample that are only counted.</param>
/// <param name="EarlierDecisions">Decisions that were taken back, in order of time.</param>
public sealed record LotRecord(
    [RegularExpression("^pairbench-lot/1$", ErrorMessage = "this program reads pairbench-lot/1")] string Format,
    [MinLength(1), Description("a name for the lot")] string Name,
    [MinLength(1), Description("the name of the style, as its reviews have it")] string Style,
    string? Factory = null,
    string? Order = null,
    string? Colourway = null,
    DateOnly? Date = null,
    ConfirmationSample? ConfirmationSample = null,
    [Range(2, 100_000_000), Description("pairs in the lot, from 2")] int? LotSize = null,
    AqlOf? Aql = null,
    InspectionLevel Level = InspectionLevel.II,
    Inspection? Inspection = null,
    bool SteadyProduction = false,
    [Range(1, 1_000_000), Description("cartons in the lot")] int? Cartons = null,
    ImmutableDictionary<string, int>? Sizes = null,
    int Seed = 1,
    [MaxLength(5000)] ImmutableArray<string> Reviews = default,
    [MaxLength(5000)] ImmutableArray<TalliedPair> Tallied = default,
    LotDecision? Decision = null,
    [MaxLength(1000)] ImmutableArray<LotDecision> EarlierDecisions = default)
{
    public const string CurrentFormat = "pairbench-lot/1";

    public ImmutableArray<string> Reviews { get => field.OrEmpty(); init; } = Reviews;
    public ImmutableArray<TalliedPair> Tallied { get => field.OrEmpty(); init; } = Tallied;
    public ImmutableArray<LotDecision> EarlierDecisions { get => field.OrEmpty(); init; } = EarlierDecisions;

    /// <summary>Reads the text of a lot that is kept.</summary>
    /// <exception cref="FaultsException">It is no lot.</exception>
    public static LotRecord Read(string document) => ShapeReader.Read<LotRecord>(DocumentText.Read(document, "lot.json"), "", out var _);

    /// <summary>What to heed besides the plan: a confirmation sample that was no longer valid on the day of the offer, or of the decision where the first is not stated.</summary>
    public ImmutableArray<string> Cautions => Date is { } offered ? [.. ConfirmationSample?.Cautions(offered, "offer") ?? []]
        : Decision is { } decision ? [.. ConfirmationSample?.Cautions(decision.On, "decision") ?? []]
        : [];

    /// <summary>Evidence of the lot examination as the lot was decided, whatever has become of its reviews and of earlier lots since; before a decision, and for one that did not keep what it rests on, that of now.</summary>
    /// <param name="reviewed">What is found now on each pair that has a review, by severity.</param>
    /// <param name="history">Earlier lots of the style and factory as they are now, in order of time.</param>
    public LotEvidence? AsDecided(IReadOnlyCollection<CountOf> reviewed, ImmutableArray<EarlierLot> history) => Decision is { Reviewed: { } decided } decision
        ? Evidence(decided, decision.History ?? [])
        : Evidence(reviewed, history);

    /// <summary>Evidence of the lot examination; null while its size or its AQL is missing.</summary>
    /// <param name="reviewed">What was found on each pair that has a review, by severity.</param>
    /// <param name="history">Earlier lots of the style and factory, in order of time.</param>
    public LotEvidence? Evidence(IReadOnlyCollection<CountOf> reviewed, ImmutableArray<EarlierLot> history)
    {
        ArgumentNullException.ThrowIfNull(reviewed);
        if (LotSize is not { } size || Aql is not { Stated.IsEmpty: false } aql)
        {
            return null;
        }

        CountOf[] pairs = [.. reviewed, .. Tallied.Select(t => new CountOf(t.Critical, t.Major, t.Minor))];
        return new LotEvidence(size, aql, Level, Inspection)
        {
            Found = new FoundOf(pairs.Count(p => p.Gravest == Severity.Critical), pairs.Count(p => p.Gravest == Severity.Major), pairs.Count(p => p.Gravest == Severity.Minor)),
            Defects = new FoundOf(pairs.Sum(p => p.Critical), pairs.Sum(p => p.Major), pairs.Sum(p => p.Minor)),
            Inspected = pairs.Length,
            History = history,
            SteadyProduction = SteadyProduction,
            Tallied = Tallied,
            Pull = Cartons is { } cartons ? new PullFrom(cartons, Sizes, Seed) : null,
        };
    }
}
