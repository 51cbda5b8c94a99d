using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.WalkRound;

/// <summary>What the reviewer answers to a check.</summary>
public enum Answer
{
    Sound,
    Finding,
    NotSeen,

    /// <summary>Neither shoe of the pair has such a part, which was seen; where one has it, that is a finding.</summary>
    HasNone,
}

/// <summary>Answers to the checks of the catalogue.</summary>
/// <param name="Construction">Construction of the shoe, where the style does not say.</param>
/// <param name="Carried">Open findings of earlier reviews of the style, asked for again.</param>
public sealed record WalkRoundEvidence(ImmutableArray<WalkRoundItem> Items = default, string? Construction = null, [MaxLength(500), ItemSaid("carried finding")] ImmutableArray<CarriedFinding> Carried = default)
{
    public ImmutableArray<WalkRoundItem> Items { get => field.OrEmpty(); init; } = Items;
    public ImmutableArray<CarriedFinding> Carried { get => field.OrEmpty(); init; } = Carried;
}

/// <param name="Check">Id of a check of the catalogue.</param>
/// <param name="Severity">That of the catalogue where left out.</param>
/// <param name="Place">Zone on the shoe in words.</param>
/// <param name="Mark">What is drawn on the photograph.</param>
/// <param name="Words">What was seen. A finding without them counts, says that it is not described, and has no correction but a stated one: what the catalogue expects was seen by nobody.</param>
/// <param name="Correction">That of the catalogue where left out and the finding is described.</param>
/// <param name="Id">Of the finding that it makes; else that of the check, with a number where several findings of it state none. What is asked of the factory hangs on it.</param>
public sealed record WalkRoundItem(
    [MinLength(1)] string Check,
    Answer Answer,
    Severity? Severity = null,
    string? Place = null,
    Side? Side = null,
    string? Photo = null,
    JsonElement? Mark = null,
    string? Words = null,
    string? Correction = null,
    [RegularExpression(Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string? Id = null)
{
    internal bool IsUndescribed => Answer == Answer.Finding && string.IsNullOrWhiteSpace(Words);

    private static readonly ImmutableArray<(string Name, Func<WalkRoundItem, bool> IsGiven)> OfOneShoe =
    [
        ("side", i => i.Side is Footwear.Side.Left or Footwear.Side.Right),
        ("severity", i => i.Severity is not null),
        ("place", i => i.Place is not null),
        ("photo", i => i.Photo is not null),
        ("mark", i => i.Mark is not null),
        ("words", i => i.Words is not null),
        ("correction", i => i.Correction is not null),
    ];

    /// <summary>Names of the fields that tell of one shoe or of a finding, neither of which goes with a part that the pair has not.</summary>
    public static ImmutableArray<string> FieldsOfOneShoe { get; } = [.. OfOneShoe.Select(f => f.Name)];

    /// <summary>Those of them that are given.</summary>
    internal IEnumerable<string> BeyondThePair => OfOneShoe.Where(f => f.IsGiven(this)).Select(f => f.Name);
}

/// <summary><c>data/walk-round/checks.json</c>.</summary>
public sealed record CheckCatalogue(string Edition, string Source, ImmutableArray<Construction> Constructions, ImmutableArray<CheckEntry> Checks)
{
    public const string File = "walk-round/checks.json";

    /// <summary>The checks of a construction; those of every construction where it is not known.</summary>
    public IEnumerable<CheckEntry> For(string? construction) =>
        Checks.Where(c => c.Constructions.IsEmpty || c.Constructions.Intersect(Named(construction)).Any());

    /// <summary>The ids in a stated construction: lasting and bottoming may be named together, such as <c>strobel, cold-cemented</c>.</summary>
    public static ImmutableArray<string> Named(string? construction) =>
        [.. (construction ?? "").Split([',', '+'], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)];
}

public sealed record Construction([RegularExpression(Id.Pattern)] string Id, string Label, string Words);

/// <summary>One check: what to look at, why it fails, what that looks like.</summary>
/// <param name="Stop">Part of the walk, in its order: packaging, whole pair, upper, inside, sole, trim.</param>
/// <param name="View">Part of the unrolled shoe that shows it: lateral, toe, medial, heel, top, sole, inside, label; box for what is around the pair.</param>
/// <param name="Zone">Where on that part.</param>
/// <param name="How">Light, distance and tool.</param>
/// <param name="Required">Not seen, it keeps the verdict on hold.</param>
/// <param name="MayLack">Whether a shoe may be made without such a part, and it is seen that it has none.</param>
/// <param name="Source">A standard, or "common practice, no source".</param>
public sealed record CheckEntry(
    [RegularExpression(Id.Pattern)] string Id,
    string Stop,
    string Component,
    string View,
    string LookAt,
    string How,
    string WhyItFails,
    string LooksLike,
    Severity Severity,
    bool Required,
    string Correction,
    string Source,
    ImmutableArray<string> Constructions = default,
    string? Caution = null,
    string? Zone = null,
    bool MayLack = false)
{
    public ImmutableArray<string> Constructions { get => field.OrEmpty(); init; } = Constructions;
}

/// <summary>The walk round the shoe: every check of the construction answered, found, or not seen.</summary>
public sealed class WalkRoundExamination : Examination<WalkRoundEvidence>
{
    public override string Name => "walk-round";

    public override string Title => "Walk round";

    public override int Order => 100;

    public override bool LooksAtSubject => true;

    public override Outcome Examine(WalkRoundEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var catalogue = surroundings.Catalogue.Read<CheckCatalogue>(CheckCatalogue.File);
        var construction = evidence.Construction ?? surroundings.Subject.Style.Construction;
        Check(evidence, catalogue, construction);
        var answers = evidence.Items;
        var checks = catalogue.For(construction).ToImmutableArray();
        var answered = answers.GroupBy(a => a.Check, StringComparer.Ordinal).ToDictionary(g => g.Key, g => g.ToImmutableArray(), StringComparer.Ordinal);
        var unseen = checks.SelectMany(c => Unseen(c, answered.GetValueOrDefault(c.Id, []))).ToImmutableArray();
        var open = unseen.Select(u => u.Id).ToHashSet(StringComparer.Ordinal);
        var carried = evidence.Carried;
        var found = CarriedOver.FoundAgain([.. Findings(answers, catalogue)], carried, out var alone);
        ImmutableArray<Finding> findings = [.. found.Select(f => f.Finding), .. CarriedOver.Findings(carried, alone)];
        return new Outcome
        {
            Findings = findings,
            NotSeen = [.. CarriedOver.NotSeen(carried), .. unseen],
            Figures = [
                Count("checks.sound", "Checks found sound", checks.Count(c => !open.Contains(c.Id) && answered.TryGetValue(c.Id, out var given) && given.All(a => a.Answer == Answer.Sound))),
                Count("checks.findings", "Findings", findings.Length),
                Count("checks.not-seen", "Checks not seen", unseen.Length),
            ],
            Tables = carried.IsEmpty
                ? [Answers(checks, answered, open)]
                : [CarriedOver.Table(carried, surroundings.Subject.Examiner?.Date ?? surroundings.Subject.Build.Date), Answers(checks, answered, open)],
            Assumptions = [
                .. construction is null ? ["The construction is not stated: only the checks that go for every construction are asked."] : Array.Empty<string>(),
                .. MadeWithout([.. checks.Where(c => answered.TryGetValue(c.Id, out var given) && given.Any(a => a.Answer == Answer.HasNone))]),
            ],
            Cautions = [.. Undescribed(found.Where(f => f.Finding.CarriedFrom is null).Select(f => f.Item), catalogue), .. answers.Where(a => a.Answer == Answer.Finding).Select(a => catalogue.Checks.First(c => c.Id == a.Check).Caution).OfType<string>().Distinct(StringComparer.Ordinal)],
            Basis = [.. checks.Select(c => c.Source).Distinct(StringComparer.Ordinal).Select(s => new Basis(KindOf(s), s))],
        };
    }

    /// <summary>The source of a check begins with what kind it is, or is a standard by its name.</summary>
    private static BasisKind KindOf(string source) =>
        source.StartsWith("common practice", StringComparison.Ordinal) ? BasisKind.Practice : source.StartsWith("law", StringComparison.Ordinal) ? BasisKind.Law : BasisKind.Standard;

    private static void Check(WalkRoundEvidence evidence, CheckCatalogue catalogue, string? construction)
    {
        var faults = new List<Fault>();
        foreach (var unknown in CheckCatalogue.Named(construction).Where(n => catalogue.Constructions.All(c => c.Id != n)))
        {
            faults.Add(new Fault("construction", $"'{unknown}' is not in the catalogue", $"use one or more of {string.Join(", ", catalogue.Constructions.Select(c => c.Id))}"));
        }

        var known = catalogue.Checks.Select(c => c.Id).ToHashSet(StringComparer.Ordinal);
        var lacked = evidence.Items.Where(i => i.Answer == Answer.HasNone).Select(i => i.Check).ToHashSet(StringComparer.Ordinal);
        var lackable = catalogue.Checks.Where(c => c.MayLack).Select(c => c.Id).ToHashSet(StringComparer.Ordinal);
        foreach (var (item, index) in evidence.Items.Select((item, i) => (item, i)))
        {
            if (!known.Contains(item.Check))
            {
                faults.Add(new Fault($"items[{index}].check", $"'{item.Check}' is no check of the catalogue", "use an id of data/walk-round/checks.json"));
            }
            else if (item.Answer == Answer.HasNone && !lackable.Contains(item.Check))
            {
                faults.Add(new Fault($"items[{index}].answer", $"has-none is no answer to '{item.Check}'", "answer sound, finding or not-seen; a part that is missing is a finding"));
            }
            else if (item.Answer == Answer.HasNone)
            {
                faults.AddRange(item.BeyondThePair.Select(field => new Fault($"items[{index}].{field}", $"has-none of '{item.Check}' is said of the pair", field == "side"
                    ? "leave the side out; that one shoe has the part and the other has not is a finding"
                    : "leave it out, or answer finding")));
            }
        }

        foreach (var (item, index) in evidence.Items.Select((item, i) => (item, i)))
        {
            if (evidence.Items.Take(index).Any(earlier => earlier.Check == item.Check && earlier.Answer != item.Answer && Overlap(earlier.Side, item.Side)))
            {
                faults.Add(new Fault($"items[{index}].answer", $"'{item.Check}' is answered in two ways", lacked.Contains(item.Check) ? "has-none is said of the pair; that one shoe has the part and the other has not is a finding" : "answer it once, or name the side of each answer"));
            }
        }

        var taken = CarriedOver.Ids(evidence.Carried).ToHashSet(StringComparer.Ordinal);
        foreach (var (item, index) in evidence.Items.Select((item, i) => (item, i)))
        {
            if (item.Id is { } id && !taken.Add(id))
            {
                faults.Add(new Fault($"items[{index}].id", $"'{id}' stands twice", "give each finding an id of its own"));
            }
        }

        faults.AddRange(CarriedOver.Faults(evidence.Carried, lacked));
        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }
    }

    private static IEnumerable<(WalkRoundItem Item, Finding Finding)> Findings(ImmutableArray<WalkRoundItem> answers, CheckCatalogue catalogue)
    {
        var ids = FindingId.Of(answers.Select(a => (a.Check, a.Id, a.Answer == Answer.Finding)));
        foreach (var group in answers.Zip(ids, (item, id) => (Item: item, Id: id)).Where(a => a.Id is not null).GroupBy(a => a.Item.Check, StringComparer.Ordinal))
        {
            var check = catalogue.Checks.First(c => c.Id == group.Key);
            foreach (var (item, id) in group)
            {
                var words = item.IsUndescribed ? $"{Capital(check.Component)}: a finding that is not described yet. Looked at ({check.Id}): {check.LookAt}" : item.Words!;
                yield return (item, new Finding(id!, item.Severity ?? check.Severity, words)
                {
                    Check = check.Id,
                    Component = check.Component,
                    Side = item.Side,
                    Zone = item.Place ?? check.Zone,
                    Correction = item.Correction ?? (item.IsUndescribed ? null : check.Correction),
                    Photo = item.Photo,
                    Mark = item.Mark,
                });
            }
        }
    }

    /// <summary>What is asked for before the factory can be told what was seen.</summary>
    private static IEnumerable<string> Undescribed(IEnumerable<WalkRoundItem> answers, CheckCatalogue catalogue) => answers
        .Where(a => a.IsUndescribed)
        .Select(a => $"{Capital(catalogue.Checks.First(c => c.Id == a.Check).Component)} ({a.Check}): the finding is not described. Write what was seen: until then it counts with its severity, and the factory is told no correction.")
        .Distinct(StringComparer.Ordinal);

    private static IEnumerable<string> MadeWithout(ImmutableArray<CheckEntry> lacked)
    {
        if (!lacked.IsEmpty)
        {
            var parts = lacked.GroupBy(c => c.Component, StringComparer.Ordinal).Select(g => $"{g.Key} ({string.Join(", ", g.Select(c => c.Id))})");
            yield return $"The pair is taken to be made without what these checks look at: {string.Join(", ", parts)}. A part that belongs there and is missing is a finding.";
        }
    }

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];

    internal static bool Overlap(Side? a, Side? b) => a is null or Side.Both || b is null or Side.Both || a == b;

    /// <summary>What of a check was not seen: all of it, or one of the two shoes. A finding on one shoe says no more of the other than a sound one does.</summary>
    private static IEnumerable<NotSeen> Unseen(CheckEntry check, ImmutableArray<WalkRoundItem> given)
    {
        var looked = given.Where(a => a.Answer != Answer.NotSeen).ToList();
        var missed = given.Where(a => a.Answer == Answer.NotSeen).ToList();
        var reason = string.Join("; ", missed.Select(m => m.Words).Where(w => !string.IsNullOrWhiteSpace(w)));
        if (looked.Count == 0)
        {
            yield return new NotSeen(check.Id, $"{check.Component}: {check.LookAt}{(reason.Length > 0 ? $" Not seen: {reason}" : "")}", check.Required);
        }
        else if (missed.Count > 0 || (looked.All(a => a.Side is Side.Left or Side.Right) && looked.Select(a => a.Side).Distinct().Count() == 1))
        {
            yield return new NotSeen(check.Id, $"{check.Component}: seen on one shoe alone. {check.LookAt}", check.Required);
        }
    }

    private static Figure Count(string id, string label, int count) => new(id, label, Measured.Exact(count, ""));

    private static Table Answers(ImmutableArray<CheckEntry> checks, Dictionary<string, ImmutableArray<WalkRoundItem>> answered, HashSet<string> open) => new(
        "answers",
        "Checks in the order of the walk",
        [new("check", "Check"), new("stop", "Stop"), new("component", "Component"), new("look-at", "What to look at"), new("how", "How"), new("answer", "Answer")],
        [.. checks.Select(c => ImmutableArray.Create<Cell>(c.Id, c.Stop, c.Component, c.LookAt, c.How, Word(answered.TryGetValue(c.Id, out var given) ? given : [], open.Contains(c.Id))))]);

    private static string Word(ImmutableArray<WalkRoundItem> given, bool isOpen) =>
        given.Any(a => a.Answer == Answer.Finding) ? (isOpen ? "finding on one shoe, the other not seen" : "finding")
        : given.Any(a => a.Answer == Answer.HasNone) ? "has none"
        : given.Any(a => a.Answer == Answer.Sound) ? (isOpen ? "sound on one shoe, the other not seen" : "sound")
        : "not seen";
}
