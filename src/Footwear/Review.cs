using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Text.Json;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>The review file: one pair of one build, examined on one occasion.</summary>
/// <param name="Evidence">By name of examination: a list of entries, or a lone entry called <c>main</c>.</param>
/// <param name="Limits">By full address of a figure.</param>
/// <param name="Corrections">What is asked of the factory.</param>
/// <param name="Tags">Words of the user's own by which the shelf finds it.</param>
public sealed record Review(
    [RegularExpression("^pairbench-review/1$", ErrorMessage = "this program reads pairbench-review/1")] string Format,
    Style Style,
    Build Build,
    Pair? Pair = null,
    ImmutableArray<ReviewPhoto> Photos = default,
    ImmutableDictionary<string, LimitOf>? Limits = null,
    ImmutableDictionary<string, JsonElement>? Evidence = null,
    Examiner? Examiner = null,
    ImmutableArray<Instrument> Instruments = default,
    Room? Room = null,
    ImmutableArray<Attachment> Attachments = default,
    Decision? Decision = null,
    [MaxLength(50)] ImmutableArray<string> Tags = default,
    Corrections? Corrections = null) : IAgreeing
{
    public const string CurrentFormat = "pairbench-review/1";

    public const string FileName = "review.json";

    public ImmutableArray<ReviewPhoto> Photos { get => field.OrEmpty(); init; } = Photos;
    public ImmutableArray<Instrument> Instruments { get => field.OrEmpty(); init; } = Instruments;
    public ImmutableArray<Attachment> Attachments { get => field.OrEmpty(); init; } = Attachments;
    public ImmutableArray<string> Tags { get => field.OrEmpty(); init; } = Tags;

    /// <summary>What cannot be used of what stands in the file, and fields that contradict each other: faults of the review when it is examined. What cannot be used is read as if it did not stand there.</summary>
    public ImmutableArray<Fault> Faults { get; internal init; } = [];

    /// <summary>Places of limits that cannot be used: their figures have no ruling, rather than that of another limit.</summary>
    internal ImmutableHashSet<string> UnreadLimits { get; init; } = [];

    /// <summary>What to heed besides the outcomes: a sample or a paper that was no longer valid on the day of the examination, or of the decision where the first is not stated.</summary>
    public ImmutableArray<string> Cautions
    {
        get
        {
            var (day, which) = Examiner?.Date is { } examined ? (examined, "examination") : Decision is { } decision ? (decision.On, "decision") : (DateOnly.MinValue, "");
            return
            [
                .. Build.ConfirmationSample?.Cautions(day, which) ?? [],
                .. Attachments.SelectMany(a => Dates.Over(string.IsNullOrWhiteSpace(a.Title) ? a.File : a.Title, a.ValidUntil, day, which)),
            ];
        }
    }

    /// <summary>What to heed on a day: an examination that is dated after it. Where it is tomorrow already, the day is one ahead.</summary>
    public ImmutableArray<string> CautionsOn(DateOnly today) => Examiner?.Date is { } examined && examined > today.AddDays(1)
        ? [$"The examination is dated {Display.Day(examined)}, which lies ahead of {Display.Day(today)}: check the date."]
        : [];

    public Subject Subject => new(Style, Build, Pair ?? new Pair(), Instruments, Room, Examiner);

    IEnumerable<Fault> IAgreeing.Disagreements(string where)
    {
        if (Build.Date is { } made && Examiner?.Date is { } examined && made > examined)
        {
            yield return new Fault(ShapeReader.Join(where, "build.date"), $"is {Dates.Text(made)}, after the examination on {Dates.Text(examined)}", "give the day that the build was made, or mend the day that it was examined");
        }

        foreach (var (instrument, i) in Instruments.Select((instrument, i) => (instrument, i)).Where(x => Instruments.Take(x.i).Any(earlier => earlier.Id == x.instrument.Id)))
        {
            yield return new Fault(ShapeReader.Join(where, string.Create(CultureInfo.InvariantCulture, $"instruments[{i}].id")), $"'{instrument.Id}' stands twice", "give each instrument an id of its own");
        }
    }
}

/// <summary>A shoe design.</summary>
/// <param name="Construction">A construction of the check catalogue, such as <c>vulcanized</c> or <c>cold-cemented</c>.</param>
public sealed record Style(
    [MinLength(1)] string Name,
    [RegularExpression(Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string? Id = null,
    string? Construction = null,
    string? Category = null,
    ImmutableDictionary<string, LimitOf>? Limits = null);

/// <summary>One making of a style.</summary>
/// <param name="ConfirmationSample">The signed sample that it is held against.</param>
public sealed record Build(
    [MinLength(1)] string Label,
    string? Factory = null,
    DateOnly? Date = null,
    string? Colourway = null,
    string? Order = null,
    string? Lot = null,
    string? Carton = null,
    ConfirmationSample? ConfirmationSample = null,
    ImmutableDictionary<string, LimitOf>? Limits = null);

/// <summary>A signed sample.</summary>
public sealed record ConfirmationSample(string Id, string? SignedBy = null, DateOnly? SignedOn = null, DateOnly? ValidUntil = null) : IAgreeing
{
    IEnumerable<Fault> IAgreeing.Disagreements(string where) => Dates.LastBeforeFirst(where, "validUntil", ValidUntil, SignedOn, "it was signed");

    /// <summary>One sentence where it was no longer valid on a day.</summary>
    /// <param name="which">What the day is that of, such as <c>examination</c>.</param>
    internal IEnumerable<string> Cautions(DateOnly day, string which) => Dates.Over($"The confirmation sample {Id}".TrimEnd(), ValidUntil, day, which);
}

/// <summary>The pair on the bench.</summary>
public sealed record Pair(string? Size = null, string? SizeSystem = null, string? Origin = null, string? Wearer = null);

/// <summary>A photograph of the review.</summary>
/// <param name="View">What it shows: lateral, medial, toe, heel, top, sole, inside, label.</param>
public sealed record ReviewPhoto([MinLength(1)] string File, string? View = null, Side? Side = null, string? Caption = null)
{
    private static readonly ImmutableArray<string> MostTelling = ["lateral", "medial", "top", "toe", "heel", "", "sole", "inside", "label"];

    /// <summary>First those that a pair is known by at a glance: views of the whole shoe before those of a part; of one view in the order given.</summary>
    public static IEnumerable<ReviewPhoto> ByTelling(IEnumerable<ReviewPhoto> photos) => photos.OrderBy(Place);

    private static int Place(ReviewPhoto photo) => MostTelling.IndexOf(photo.View ?? "") is >= 0 and var place ? place : MostTelling.IndexOf("");
}

public sealed record Examiner(string Name, DateOnly? Date = null);

/// <summary>An instrument on the bench.</summary>
public sealed record Instrument(
    [RegularExpression(Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    string Kind,
    DateOnly? CalibratedOn = null,
    DateOnly? CalibrationUntil = null,
    string? Certificate = null) : IAgreeing
{
    IEnumerable<Fault> IAgreeing.Disagreements(string where) => Dates.LastBeforeFirst(where, "calibrationUntil", CalibrationUntil, CalibratedOn, "it was calibrated");
}

/// <summary>Conditions in the room.</summary>
public sealed record Room([property: Description("room temperature")][InUnit("Cel")] Measured? TemperatureC = null, [InUnit("%")] Measured? HumidityPct = null) : IAgreeing
{
    private static readonly NumberRange Temperatures = new(-40, 60);

    private static readonly NumberRange Humidities = new(0, 100);

    IEnumerable<Fault> IAgreeing.Disagreements(string where) =>
        new[] { TemperatureC is { } t ? Temperatures.Refused(ShapeReader.Join(where, "temperatureC"), t.Value) : null, HumidityPct is { } h ? Humidities.Refused(ShapeReader.Join(where, "humidityPct"), h.Value) : null }.OfType<Fault>();
}

/// <summary>A laboratory report, specification or other file beside the review.</summary>
public sealed record Attachment([MinLength(1)] string File, string? Title = null, DateOnly? ValidUntil = null);

/// <summary>A limit as a file states it; at least one of min and max.</summary>
/// <param name="BySize">Other bounds by size, for limits of a style.</param>
[AllOrNothing]
public sealed record LimitOf(
    double? Min = null,
    double? Max = null,
    Severity Severity = Severity.Major,
    [Range(0.5, 1, MinimumIsExclusive = true, MaximumIsExclusive = true)] double Probability = 0.95,
    string Source = "",
    ImmutableDictionary<string, LimitBounds>? BySize = null)
{
    /// <summary>The bounds that rule a pair of a size, which is told by what it means and not by its letters: 8.5, 8,5 and 8½ are one.</summary>
    /// <param name="size">As the pair states it; null or empty where it states none.</param>
    /// <param name="where">Place of the limit, for faults.</param>
    /// <exception cref="FaultsException">There is no bound for this size, the bounds cross, or two sizes of the limit are this one.</exception>
    public Limit For(string? size, string where)
    {
        var own = OfSize(size);
        if (own.Length > 1)
        {
            throw new FaultsException(new Fault(where, $"has bounds for size {size!.Trim()} more than once, as {string.Join(" and ", own.Select(o => o.Key))}", "give the bounds of a size once"));
        }

        if (own.IsEmpty && Min is null && Max is null && BySize is { IsEmpty: false })
        {
            throw new FaultsException(string.IsNullOrWhiteSpace(size)
                ? new Fault(where, $"has bounds for {Sizes} alone, and no size is stated", "state the size of the pair, or give a min or max for all other sizes")
                : new Fault(where, $"has no bounds for size {size.Trim()}; it has {Sizes}", "add this size, or give a min or max for all other sizes"));
        }

        try
        {
            return own.IsEmpty ? new Limit(Min, Max, Severity, Source, Probability) : new Limit(own[0].Value.Min, own[0].Value.Max, Severity, Source, Probability);
        }
        catch (ArgumentException e)
        {
            throw new FaultsException(new Fault(where, e.Message.TrimEnd('.'), "give min, max or both, min first"));
        }
    }

    /// <summary>What to tell where bounds by size stand, none of them is of this size, and so those for all sizes rule; null elsewhere.</summary>
    /// <param name="named">What the limit is of, such as the address of its figure.</param>
    public string? NotBySize(string? size, string named) => BySize is null or { IsEmpty: true } || !OfSize(size).IsEmpty ? null
        : string.IsNullOrWhiteSpace(size) ? $"{named}: no size is stated; its limit has bounds for {Sizes}, and those for all sizes are taken."
        : $"{named}: its limit has no bounds for size {size.Trim()} but for {Sizes}; those for all sizes are taken.";

    private string Sizes => string.Join(", ", BySize!.Keys.OrderBy(WrittenSize.Read).ThenBy(k => k, StringComparer.Ordinal));

    /// <summary>Written alike goes before meant alike.</summary>
    private ImmutableArray<KeyValuePair<string, LimitBounds>> OfSize(string? size) =>
        string.IsNullOrWhiteSpace(size) || BySize is null ? []
        : BySize.TryGetValue(size.Trim(), out var written) ? [KeyValuePair.Create(size.Trim(), written)]
        : [.. BySize.Where(b => WrittenSize.AreOne(b.Key, size)).OrderBy(b => b.Key, StringComparer.Ordinal)];
}

public sealed record LimitBounds(double? Min = null, double? Max = null);

/// <summary>What a person decided, beside the verdict.</summary>
/// <param name="Taken">The verdict that the person takes; may differ from the computed one.</param>
/// <param name="Until">Until when it holds, for a concession.</param>
/// <param name="For">Order or quantity that it holds for.</param>
public sealed record Decision(
    VerdictWord Taken,
    [MinLength(1)] string By,
    DateOnly On,
    [MinLength(1)] string Reason,
    DateOnly? Until = null,
    string? For = null);

/// <summary>What an examination knows of the pair besides its evidence.</summary>
/// <param name="Examiner">Who examines, and the date that calibrations are held against.</param>
public sealed record Subject(Style Style, Build Build, Pair Pair, ImmutableArray<Instrument> Instruments, Room? Room, Examiner? Examiner = null)
{
    /// <summary>Nothing is known: a lone examination outside a review.</summary>
    public static Subject Unknown { get; } = new(new Style("unnamed"), new Build("unnamed"), new Pair(), [], null);
}
