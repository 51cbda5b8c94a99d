using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Text.Json.Serialization;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Lot;

/// <summary>Inspection levels of MIL-STD-105E, 4.9.</summary>
public enum InspectionLevel
{
    [JsonStringEnumMemberName("S-1")]
    S1,

    [JsonStringEnumMemberName("S-2")]
    S2,

    [JsonStringEnumMemberName("S-3")]
    S3,

    [JsonStringEnumMemberName("S-4")]
    S4,

    [JsonStringEnumMemberName("I")]
    I,

    [JsonStringEnumMemberName("II")]
    II,

    [JsonStringEnumMemberName("III")]
    III,
}

/// <summary>How severe the inspection is.</summary>
public enum Inspection
{
    Normal,
    Tightened,
    Reduced,
}

/// <summary>An earlier lot of the same style and factory, in order of time.</summary>
/// <param name="Accepted">On original inspection.</param>
/// <param name="InGap">Accepted in reduced inspection with more found than the acceptance number.</param>
/// <param name="Sampled">Pairs in its sample, for the limit numbers.</param>
/// <param name="Found">Defective pairs in its sample, for the limit numbers.</param>
public sealed record EarlierLot(bool Accepted, bool InGap = false, [Range(0, 1_000_000)] int? Sampled = null, [Range(0, 1_000_000)] int? Found = null);

/// <summary>What is pulled from where.</summary>
/// <param name="Cartons">Cartons in the lot.</param>
/// <param name="Sizes">Pairs of each size in the lot.</param>
/// <param name="Seed">Of the draw, a whole number from 0; the same seed gives the same list, another one another.</param>
public sealed record PullFrom([Range(1, 1_000_000)] int Cartons, ImmutableDictionary<string, int>? Sizes = null, [Range(0, int.MaxValue)] int Seed = 1);

/// <summary>An acceptable quality level for each severity that is judged.</summary>
public sealed record AqlOf([Range(0.01, 1000)] double? Critical = null, [Range(0.01, 1000)] double? Major = null, [Range(0.01, 1000)] double? Minor = null)
{
    /// <summary>Those that are stated, the gravest first.</summary>
    public ImmutableArray<(Severity Severity, double Aql)> Stated => [.. new[] { (Severity.Critical, Critical), (Severity.Major, Major), (Severity.Minor, Minor) }
        .Where(a => a.Item2 is not null).Select(a => (a.Item1, a.Item2!.Value))];
}

/// <summary>How many were found of each severity; null where nobody said, which is not the same as none.</summary>
public sealed record FoundOf([Range(0, 100_000_000)] int? Critical = null, [Range(0, 100_000_000)] int? Major = null, [Range(0, 100_000_000)] int? Minor = null)
{
    /// <summary>Of all severities that are stated.</summary>
    public int Total => (Critical ?? 0) + (Major ?? 0) + (Minor ?? 0);

    public int? Of(Severity severity) => severity switch { Severity.Critical => Critical, Severity.Major => Major, _ => Minor };
}

/// <summary>How many defects of each severity one pair has.</summary>
public sealed record CountOf(int Critical = 0, int Major = 0, int Minor = 0)
{
    /// <summary>The gravest of what is counted; null where there is nothing.</summary>
    public Severity? Gravest => Critical > 0 ? Severity.Critical : Major > 0 ? Severity.Major : Minor > 0 ? Severity.Minor : null;
}

/// <summary>Evidence of the lot: what was shipped, what is asked, what was found.</summary>
/// <param name="LotSize">Pairs in the lot.</param>
/// <param name="Aql">By severity: % defective pairs up to 10, defects per 100 pairs above; then what is found has to be counted as defects.</param>
/// <param name="Found">Defective pairs in the sample by severity; a pair counts once, by its gravest defect.</param>
/// <param name="Defects">Defects in the sample by severity, counted apart from pairs.</param>
/// <param name="QualityPct">Qualities of the lot at which the chance of acceptance is wanted, in %; defects per 100 pairs above an AQL of 10.</param>
/// <param name="History">Earlier lots, the first begun on normal inspection; they say which inspection this lot has.</param>
/// <param name="Inspected">Pairs of the sample looked at so far; the whole sample where it is not stated.</param>
/// <param name="SteadyProduction">Whether production is steady and reduced inspection is wanted (4.7.3).</param>
public sealed record LotEvidence(
    [Range(2, 100_000_000), Description("pairs in the lot")] int LotSize,
    AqlOf Aql,
    InspectionLevel Level = InspectionLevel.II,
    Inspection? Inspection = null,
    FoundOf? Found = null,
    FoundOf? Defects = null,
    [MaxLength(200)] ImmutableArray<double> QualityPct = default,
    [MaxLength(1000), ItemSaid("earlier lot")] ImmutableArray<EarlierLot> History = default,
    bool SteadyProduction = false,
    PullFrom? Pull = null,
    [Range(0, 100_000_000), Description("pairs looked at so far")] int? Inspected = null)
{
    public ImmutableArray<double> QualityPct { get => field.OrEmpty(); init; } = QualityPct;
    public ImmutableArray<EarlierLot> History { get => field.OrEmpty(); init; } = History;

    /// <summary>Pairs of the sample that are only counted: what is found on them stands in <see cref="Found"/> and <see cref="Defects"/>.</summary>
    internal ImmutableArray<TalliedPair> Tallied { get; init; } = [];

    /// <summary>Critical ones found. One pair may carry several defects: the two counts are of the same things.</summary>
    internal int Criticals => Math.Max(Found?.Critical ?? 0, Defects?.Critical ?? 0);
}
