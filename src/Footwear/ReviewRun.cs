using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.Shapes;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>A review with everything that its examinations found.</summary>
public sealed record Examined(ImmutableArray<Outcome> Outcomes, Verdict Verdict)
{
    /// <summary>Whether any figure was held against a limit: a pass of figures that have none says little.</summary>
    public bool IsRuled => Outcomes.Any(o => o.Figures.Any(f => f.Ruling is not null));

    /// <summary>The figure of an address; null where there is none.</summary>
    public Figure? FigureAt(FullAddress address) => At(address)?.Figures.FirstOrDefault(f => f.Id == address.Id);

    /// <summary>The finding of an address; null where there is none.</summary>
    public Finding? FindingAt(FullAddress address) => At(address)?.Findings.FirstOrDefault(f => f.Id == address.Id);

    private Outcome? At(FullAddress address)
    {
        ArgumentNullException.ThrowIfNull(address);
        return Outcomes.FirstOrDefault(o => o.Address == address.Entry);
    }
}

/// <summary>What could be examined of a review that is still being filled in.</summary>
/// <param name="Faults">What is wrong with the entries that could not; empty where all could.</param>
public sealed record PartlyExamined(Examined Examined, ImmutableArray<Fault> Faults);

/// <summary>Runs the examinations that a review has evidence for: references first, in order, then limits, then the verdict.</summary>
public static class ReviewRun
{
    internal static readonly ImmutableHashSet<string> SpineFields = ["id", "limits"];

    /// <summary>
    /// Reads a review file as far as it can be used. What cannot be, days that contradict each other and the like are <see cref="Review.Faults"/>, which come out when it is examined: what is kept
    /// can be read and mended, and all else goes on.
    /// </summary>
    /// <exception cref="FaultsException">It is no review: another format, or without a style or a build.</exception>
    public static Review Read(JsonElement file)
    {
        var review = ShapeReader.ReadKept<Review>(file, out var faults);
        return faults.Any(f => f.Where == "format")
            ? throw new FaultsException(faults)
            : review with { Faults = faults, UnreadLimits = [.. LimitSource.Unread(file, review)] };
    }

    /// <summary>Reads the text of a review that is kept; as <see cref="Read(JsonElement)"/>.</summary>
    /// <exception cref="FaultsException">It is no review, or not JSON.</exception>
    public static Review Read(string document) => Read(DocumentText.Read(document, Review.FileName));

    /// <summary>Examines a whole review.</summary>
    /// <param name="progress">Told each entry as it begins.</param>
    /// <exception cref="FaultsException">Some evidence cannot be used; carries the faults of every entry.</exception>
    public static Examined Examine(Review review, IPhotoSource photos, Catalogue catalogue, IProgress<EntryProgress>? progress = null, CancellationToken cancellation = default) =>
        Examine(review, photos, catalogue, new OutcomeMemory(), progress, cancellation);

    /// <summary>Examines a whole review of which some may be known.</summary>
    /// <param name="memory">Outcomes of earlier runs of this review.</param>
    /// <param name="progress">Told each entry that is not known as it begins.</param>
    /// <exception cref="FaultsException">Some evidence cannot be used; carries the faults of every entry.</exception>
    public static Examined Examine(Review review, IPhotoSource photos, Catalogue catalogue, OutcomeMemory memory, IProgress<EntryProgress>? progress, CancellationToken cancellation)
    {
        var partly = Examine(review, photos, catalogue, memory, mistakesAreFaults: false, progress, cancellation);
        return partly.Faults.IsEmpty ? partly.Examined : throw new FaultsException(partly.Faults);
    }

    /// <summary>
    /// Examines every entry that can be; those that cannot, and those that refer to them, give faults instead of outcomes. So does an entry on which the program fails
    /// by a mistake of its own: the others go on.
    /// </summary>
    /// <param name="memory">Outcomes of earlier runs of this review.</param>
    /// <param name="progress">Told each entry that is not known as it begins.</param>
    /// <exception cref="FaultsException">An examination is unknown, an entry has no proper id, or references lead nowhere.</exception>
    public static PartlyExamined ExamineWhatCan(Review review, IPhotoSource photos, Catalogue catalogue, OutcomeMemory memory, IProgress<EntryProgress>? progress = null, CancellationToken cancellation = default) =>
        Examine(review, photos, catalogue, memory, mistakesAreFaults: true, progress, cancellation);

    /// <param name="mistakesAreFaults">A mistake of the program is a fault of its entry; else it goes through.</param>
    private static PartlyExamined Examine(Review review, IPhotoSource photos, Catalogue catalogue, OutcomeMemory memory, bool mistakesAreFaults, IProgress<EntryProgress>? progress, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(review);
        ArgumentNullException.ThrowIfNull(memory);
        var rules = catalogue.Read<VerdictRules>(VerdictRules.File);
        var surroundings = new Surroundings(photos, catalogue, review.Subject);
        var (entries, misplaced) = EntryList.Of(review.Evidence ?? ImmutableDictionary<string, JsonElement>.Empty);
        var limits = new LimitSource(review);
        var (outcomes, faults) = Run(entries, surroundings, limits, memory, mistakesAreFaults, progress, cancellation);
        return new PartlyExamined(new Examined(outcomes, Verdict.Of(outcomes, rules)), [.. review.Faults, .. limits.Misaddressed(), .. misplaced, .. faults]);
    }

    /// <summary>Examines one entry that stands alone: the evidence of <c>run</c>.</summary>
    /// <exception cref="FaultsException">The evidence cannot be used.</exception>
    public static Outcome ExamineAlone(Examination examination, JsonElement evidence, Surroundings surroundings, CancellationToken cancellation = default)
    {
        var (outcomes, faults) = Run([new Entry(examination, EntryAddress.Main, evidence, "")], surroundings, LimitSource.None, new OutcomeMemory(), mistakesAreFaults: false, null, cancellation);
        return faults.IsEmpty ? outcomes.Single() : throw new FaultsException(faults);
    }

    /// <summary>The entries of the evidence of a review, in the order of the work.</summary>
    /// <exception cref="FaultsException">An examination is unknown, or an entry has no proper id.</exception>
    public static ImmutableArray<Entry> Entries(ImmutableDictionary<string, JsonElement> evidence)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        var (entries, faults) = EntryList.Of(evidence);
        return faults.IsEmpty ? entries : throw new FaultsException(faults);
    }

    private static (ImmutableArray<Outcome> Outcomes, ImmutableArray<Fault> Faults) Run(ImmutableArray<Entry> entries, Surroundings surroundings, LimitSource limits, OutcomeMemory memory, bool mistakesAreFaults, IProgress<EntryProgress>? progress, CancellationToken cancellation)
    {
        entries = TakenEvidence.In(entries);
        var faults = new List<Fault>();
        var done = new Dictionary<EntryAddress, Outcome>();
        var figures = new Dictionary<string, Measured>(StringComparer.Ordinal);
        var failed = new HashSet<EntryAddress>();
        foreach (var (number, entry) in EntryOrder.Of(entries).Index())
        {
            cancellation.ThrowIfCancellationRequested();
            var references = EntryOrder.References(entry).ToImmutableArray();
            if (references.Any(r => failed.Contains(r.Address.Entry)) || entry.Taken.Any(t => EntryAddress.Read(t.Address) is { } named && failed.Contains(named)))
            {
                failed.Add(entry.Address);
                continue;
            }

            try
            {
                var (outcome, misruled) = RunOne(entry, references, figures, surroundings, limits, memory, () => progress?.Report(new EntryProgress(entry.Address, number + 1, entries.Length)), cancellation);
                faults.AddRange(misruled);
                done[entry.Address] = outcome;
                foreach (var figure in outcome.Figures)
                {
                    figures[entry.Address.Of(figure.Id).ToString()] = figure.Measured;
                }
            }
            catch (FaultsException e)
            {
                failed.Add(entry.Address);
                faults.AddRange(e.Faults.Select(f => f.Where.StartsWith("data/", StringComparison.Ordinal) ? f : f with { Where = EntryOrder.Place(entry.Where, f.Where) }));
            }
            catch (PhotoException e)
            {
                failed.Add(entry.Address);
                faults.Add(Fault.Of(e) with { Where = EntryOrder.Place(entry.Where, e.File) });
            }
            catch (Exception e) when (mistakesAreFaults && !cancellation.IsCancellationRequested)
            {
                failed.Add(entry.Address);
                faults.Add(Mistake(entry.Where, e));
            }
        }

        return ([.. entries.Where(e => done.ContainsKey(e.Address)).Select(e => done[e.Address]), .. limits.WithoutEvidence(done.Keys, failed)], [.. faults]);
    }

    /// <summary>What a page says where the program failed by a mistake of its own, which nothing that is entered should bring about.</summary>
    public static Fault Mistake(string where, Exception mistake)
    {
        // Work in parallel wraps what broke it.
        var cause = mistake.GetBaseException();
        return new Fault(where, $"could not be examined: the program failed by a mistake of its own ({cause.GetType().Name}: {cause.Message})", "undo the last change here; tell the makers if it stays");
    }

    private static (Outcome Outcome, ImmutableArray<Fault> Faults) RunOne(Entry entry, ImmutableArray<(string Place, FullAddress Address)> references, Dictionary<string, Measured> figures, Surroundings surroundings, LimitSource limits, OutcomeMemory memory, Action begins, CancellationToken cancellation)
    {
        if (!entry.Mistaken.IsEmpty)
        {
            throw new FaultsException(entry.Mistaken);
        }

        surroundings = entry.Examination.LooksAtSubject ? surroundings : surroundings with { Subject = Subject.Unknown };
        var taken = new HashSet<string>(StringComparer.Ordinal);
        var assumed = new Dictionary<string, Measured>();
        var evidence = Evidence(entry, references, figures, surroundings, taken, assumed, out var unused);
        var own = entry.Evidence.ValueKind == JsonValueKind.Object && entry.Evidence.TryGetProperty("limits", out var stated) && stated.ValueKind != JsonValueKind.Null
            ? ShapeReader.Read<ImmutableDictionary<string, LimitOf>>(stated, "limits", out var _)
            : ImmutableDictionary<string, LimitOf>.Empty;
        var outcome = memory.Recall(
            entry,
            references.Select(r => (r.Address, figures[r.Address.ToString()])),
            surroundings.Subject,
            () =>
            {
                begins();
                return entry.Examination.Examine(evidence, surroundings with { Entry = entry.Id }, cancellation);
            });
        var (ruled, misruled) = limits.Apply(outcome with { Examination = entry.Examination.Name, Entry = entry.Id }, own, entry.Where);
        ruled = ruled with
        {
            Assumptions = [
                .. references.Where(r => taken.Contains(r.Place)).Select(r => $"{Sentence(CauseWords.OfPlace(entry.Examination, entry.Named(r.Place)))} is taken from {r.Address}: {Display.Of(figures[r.Address.ToString()])}."),
                .. assumed.Select(a => $"{Sentence(CauseWords.OfPlace(entry.Examination, entry.Named(a.Key)))} is given without an uncertainty: it is taken to be right to {Display.Of(a.Value)} (standard uncertainty)."),
                .. unused.Select(u => $"{u} is no field of this examination and was not used."),
                .. ruled.Assumptions],
        };
        return (ruled, misruled);
    }

    /// <param name="taken">Takes the places whose references were read; one may also stand in a field that nothing reads, or in what is kept as it is.</param>
    /// <param name="assumed">Takes the places of numbers that an uncertainty was assumed of, with it.</param>
    /// <exception cref="FaultsException">The evidence does not have its shape, or refers to figures that are not there; carries what else is wrong with the rest of it too, as far as the examination can say.</exception>
    private static object Evidence(Entry entry, ImmutableArray<(string Place, FullAddress Address)> references, Dictionary<string, Measured> figures, Surroundings surroundings, HashSet<string> taken, Dictionary<string, Measured> assumed, out ImmutableArray<string> unused)
    {
        object Read(JsonElement from, out ImmutableArray<string> left) =>
            ShapeReader.Read(entry.Examination.EvidenceType, from, "", out left, figures, where => "stated:" + entry.Stated(where), taken, assumed);
        var given = WithoutSpineFields(entry.Evidence);
        ImmutableArray<Fault> lost = [.. references.Where(r => !figures.ContainsKey(r.Address.ToString())).Select(r => ShapeReader.NoSuchFigure(r.Place, r.Address.ToString()))];
        try
        {
            var read = Read(given, out unused);
            return lost.IsEmpty ? read : throw new FaultsException(lost);
        }
        catch (FaultsException e)
        {
            ImmutableArray<Fault> shape = [.. e.Faults.Union(lost)];
            if (SoundPart.Of(given, shape) is not { } sound)
            {
                throw new FaultsException(shape);
            }

            ImmutableArray<Fault> further = [];
            try
            {
                further = [.. entry.Examination.BeyondShape(Read(sound, out var _), surroundings with { Entry = entry.Id }, shape).Where(f => SoundPart.Stands(f, shape, entry.Examination.EvidenceType))];
            }
            catch (FaultsException)
            {
                // What was taken out has to be there: the faults of shape come alone.
            }

            throw new FaultsException([.. shape, .. further]);
        }
    }

    private static JsonElement WithoutSpineFields(JsonElement evidence) => evidence.ValueKind == JsonValueKind.Object
        ? JsonSerializer.SerializeToElement(evidence.EnumerateObject().Where(p => !SpineFields.Contains(p.Name)).ToDictionary(p => p.Name, p => p.Value))
        : evidence;

    private static string Sentence(string words) => words.Length == 0 ? words : char.ToUpperInvariant(words[0]) + words[1..];
}
