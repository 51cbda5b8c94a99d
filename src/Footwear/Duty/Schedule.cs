using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Duty;

/// <summary>A condition on one fact: exactly one of truth, words, or a range of numbers.</summary>
/// <param name="Over">Exclusive.</param>
/// <param name="NotOver">Inclusive.</param>
/// <param name="AtLeast">Inclusive.</param>
/// <param name="Under">Exclusive.</param>
public sealed record Atom(string Fact, bool? Is = null, ImmutableArray<string> In = default, double? Over = null, double? NotOver = null, double? AtLeast = null, double? Under = null)
{
    public ImmutableArray<string> In { get => field.OrEmpty(); init; } = In;

    public IEnumerable<double> Thresholds => new[] { Over, NotOver, AtLeast, Under }.OfType<double>();

    public bool Holds(double number) => !(number <= Over) && !(number > NotOver) && !(number < AtLeast) && !(number >= Under);

    /// <summary>True where every value that the extent leaves holds, false where none does.</summary>
    public bool? Holds(Shapes.Extent extent)
    {
        ArgumentNullException.ThrowIfNull(extent);
        double[] edges = [double.NegativeInfinity, .. Thresholds.Order(), double.PositiveInfinity];
        var points = edges[1..^1].Where(extent.MayBe).Concat(edges.Zip(edges.Skip(1)).Where(e => extent.MayLieBetween(e.First, e.Second)).Select(e => Inside(e.First, e.Second))).Select(Holds).Distinct().ToArray();
        return points.Length == 1 ? points[0] : null;
    }

    private static double Inside(double low, double high) => double.IsInfinity(low) ? high - 1 : double.IsInfinity(high) ? low + 1 : (low + high) / 2;

    public override string ToString() => Is is { } truth ? $"{FactWords.Of(Fact)}: {FactWords.Of(truth)}"
        : !In.IsEmpty ? $"{FactWords.Of(Fact)}: {string.Join(" or ", In)}"
        : $"{FactWords.Of(Fact)} {string.Join(", ", new[] { (Over, "over"), (NotOver, "not over"), (AtLeast, "at least"), (Under, "under") }.Where(t => t.Item1 is not null).Select(t => FormattableString.Invariant($"{t.Item2} {t.Item1}")))}";
}

/// <summary>A line of a schedule. It fits when all atoms of <c>all</c> hold and no list of <c>none</c> holds as a whole; the first fitting line of the schedule is the answer.</summary>
/// <param name="AdValoremPct">Percent of the customs value.</param>
/// <param name="SpecificPerPair">In the currency of the schedule.</param>
/// <param name="Status">Whether it was read in the source.</param>
public sealed record ScheduleLine(
    [MinLength(4)] string Code,
    string RateText,
    [Range(0, 1000), Said("ad valorem rate")] double AdValoremPct,
    [Range(0, 1e6)] double SpecificPerPair = 0,
    string Gist = "",
    string Status = "from memory",
    [ItemSaid("condition")] ImmutableArray<Atom> All = default,
    [ItemSaid("exception")] ImmutableArray<ImmutableArray<Atom>> None = default)
{
    public ImmutableArray<Atom> All { get => field.OrEmpty(); init; } = All;
    public ImmutableArray<ImmutableArray<Atom>> None { get => field.OrEmpty(); init; } = None;
}

/// <summary>A tariff schedule of one market in one edition.</summary>
public sealed record Schedule(
    [MinLength(1)] string Edition,
    Market Market,
    string Title,
    string Source,
    [RegularExpression("^[A-Z]{3}$", ErrorMessage = "give three letters such as USD")] string Currency,
    string ValueBasis,
    [MinLength(1)][MaxLength(2000)] ImmutableArray<ScheduleLine> Lines)
{
    public static string File(Market market) => market switch
    {
        Market.Us => "tariff/us.json",
        Market.Eu => "tariff/eu.json",
        _ => "tariff/uk.json",
    };
}

/// <summary>How a condition of a line follows from the facts of a shoe.</summary>
/// <param name="Rule">same, any, unless, map, number, worn, band, upper or sole.</param>
/// <param name="From">Places in the facts.</param>
/// <param name="Law">The note or line it rests on.</param>
/// <param name="Plain">What an unknown fact is read as: true or false, or a word for words, or a number.</param>
/// <param name="Either">The words that are all there are; where absent, a word that no line names may be one more.</param>
/// <param name="With">Places that help to answer and are told with the answer, but are not asked for by themselves.</param>
public sealed record FactRule(string Fact, string Rule, ImmutableArray<string> From, string Words, string Law, System.Text.Json.JsonElement? Plain = null, ImmutableDictionary<string, string>? Map = null, ImmutableArray<string> With = default, ImmutableArray<string> Either = default)
{
    public ImmutableArray<string> With { get => field.OrEmpty(); init; } = With;
    public ImmutableArray<string> Either { get => field.OrEmpty(); init; } = Either;
}

/// <summary>A fact that follows from others, of which one is measured: where all of <c>if</c> hold the fact at <c>place</c> is <c>then</c>, where one fails it is <c>otherwise</c>, or stays open if that is absent.</summary>
public sealed record FactTest([MinLength(1)] ImmutableArray<Atom> If, string Place, bool Then, string Words, string Law, bool? Otherwise = null);

/// <summary>When what covers the upper changes the material that its area counts for.</summary>
/// <param name="GapFilledBelowMm">Exclusive; the gaps of a print then count for its lines.</param>
/// <param name="GapOpenAboveMm">Exclusive; between the two it is undecided.</param>
public sealed record CoveringRules([Range(0, 10)] double LeatherCoatMostMm, string CoatLaw, [Range(0, 100)] double GapFilledBelowMm, [Range(0, 100)] double GapOpenAboveMm, string GapLaw);

/// <summary>First and last size of a scale.</summary>
public sealed record ScaleEnds(SizeScale Scale, [Range(0, 20)] double From, [Range(0, 20)] double To);

/// <summary>American sizes that decide for whom a shoe is.</summary>
/// <param name="Scales">Scales that a run may go through, in their order.</param>
public sealed record WearingRules([Range(0, 20)] double YouthsFrom, string YouthsLaw, [Range(0, 20)] double UnisexUpToMens, string UnisexLaw, ImmutableArray<ScaleEnds> Scales, string ScalesLaw)
{
    internal ScaleEnds? EndsOf(SizeScale scale) => Scales.FirstOrDefault(s => s.Scale == scale);

    /// <summary>A run as one run in each scale that it goes through.</summary>
    internal ImmutableArray<AmericanSizes> RunsOf(AmericanSizes sizes) => sizes.ToScale is not { } end || end == sizes.Scale
        ? [sizes]
        : [.. Scales.Where(s => s.Scale >= sizes.Scale && s.Scale <= end).Select(s => new AmericanSizes(s.Scale, s.Scale == sizes.Scale ? sizes.From : s.From, s.Scale == end ? sizes.To : s.To))];
}

/// <summary>Protective active footwear has a least value.</summary>
public sealed record ActiveRules([Range(0, 1e6)] double OverUsd, string Law);

/// <summary>Least overlap of the upper, in inch, that counts towards a band in a run of sizes; a wearer may stand in several runs.</summary>
/// <param name="Scale">The scale of American sizes it belongs to; a run without one takes all sizes that no other takes.</param>
public sealed record OverlapRun(string Sizes, [MinLength(1)] ImmutableArray<string> Wearers, [Range(0, 10)] double LeastInch, string Source, SizeScale? Scale = null, double From = 0, double To = 0);

/// <summary>What makes a foxing-like band: how far round the perimeter, and how high over the upper.</summary>
/// <param name="NoneBelowPct">Exclusive.</param>
/// <param name="BandAbovePct">Exclusive; between the two it is undecided.</param>
public sealed record BandThresholds([Range(0, 100)] double NoneBelowPct, [Range(0, 100)] double BandAbovePct, string Source, [MinLength(1)] ImmutableArray<OverlapRun> Overlaps)
{
    /// <summary>The runs that the sizes lie in, else those that the wearer may be in; all of them where neither is known.</summary>
    internal ImmutableArray<OverlapRun> Of(Answers answers, WearingRules wearing) => answers["sizes"] is AmericanSizes sizes
        ? [.. wearing.RunsOf(sizes).SelectMany(run => Of(run)).Distinct()]
        : Of(answers["wearer"] as string);

    private ImmutableArray<OverlapRun> Of(AmericanSizes sizes)
    {
        var own = Overlaps.Where(o => o.Scale == sizes.Scale).ToImmutableArray();
        var sized = own.Where(o => sizes.From <= o.To && sizes.To >= o.From).ToImmutableArray();
        if (sized.Any(o => sizes.From >= o.From && sizes.To <= o.To))
        {
            return sized;
        }

        // Above the children's run come the sizes of youths; any other size that no run states may be of either neighbour.
        return own.IsEmpty || (sizes.Scale is SizeScale.Children && sizes.From >= own.Min(o => o.From)) ? [.. sized, .. Overlaps.Where(o => o.Scale is null)] : Overlaps;
    }

    private ImmutableArray<OverlapRun> Of(string? wearer) =>
        Overlaps.Where(o => wearer is not null && o.Wearers.Contains(wearer)).ToImmutableArray() is { IsEmpty: false } named ? named : Overlaps;
}

public sealed record Implication(Atom If, Atom Then, string Law);

/// <summary><c>data/tariff/facts.json</c>.</summary>
public sealed record FactRules(string Edition, string Source, BandThresholds Band, ImmutableArray<FactTest> Tests, CoveringRules Covering, WearingRules Wearing, ActiveRules ProtectiveActive, ImmutableArray<Implication> Implications, ImmutableArray<FactRule> Facts)
{
    public const string File = "tariff/facts.json";
}
