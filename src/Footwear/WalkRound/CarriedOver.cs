using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Text.Json;
using Pairbench.Measuring;

namespace Pairbench.Footwear.WalkRound;

/// <summary>What became of a finding of an earlier build.</summary>
public enum CarriedAnswer
{
    NotSeen,
    Fixed,
    StillThere,
    Worse,
}

/// <summary>A finding of an earlier review of the style, asked for again.</summary>
/// <param name="Finding">Its address: id of the review, then examination, entry and finding.</param>
/// <param name="Severity">As it stands now; <c>worse</c> may raise it.</param>
/// <param name="Since">Date of the build that it was first found on.</param>
/// <param name="Owner">Who was to put it right.</param>
/// <param name="By">By when.</param>
/// <param name="Remark">What is seen of it now.</param>
public sealed record CarriedFinding(
    [MinLength(1)] string Finding,
    [MinLength(1)] string Words,
    CarriedAnswer Answer = CarriedAnswer.NotSeen,
    Severity Severity = Severity.Minor,
    string? Check = null,
    string? Component = null,
    Side? Side = null,
    string? Zone = null,
    string? Correction = null,
    DateOnly? Since = null,
    string? Owner = null,
    DateOnly? By = null,
    string? Photo = null,
    JsonElement? Mark = null,
    string? Remark = null);

/// <summary>Earlier findings, asked for and answered.</summary>
internal static class CarriedOver
{
    /// <summary>
    /// What checks found, where it is an earlier finding that is still there or worse told as that: one defect is one finding, though it is asked for
    /// twice. It is the same where check, shoe and place agree as far as both state them, and each is so for one other at most.
    /// </summary>
    /// <param name="alone">Places in <paramref name="carried"/> of what no check found again.</param>
    public static ImmutableArray<(WalkRoundItem Item, Finding Finding)> FoundAgain(ImmutableArray<(WalkRoundItem Item, Finding Finding)> found, ImmutableArray<CarriedFinding> carried, out ImmutableHashSet<int> alone)
    {
        var told = found.ToBuilder();
        var rest = Enumerable.Range(0, carried.Length).ToImmutableHashSet();
        foreach (var (earlier, at) in carried.Select((c, i) => (c, i)).Where(c => IsOpen(c.c)))
        {
            var same = Enumerable.Range(0, told.Count)
                .Where(i => told[i].Finding is { CarriedFrom: null } finding && finding.Check == earlier.Check && WalkRoundExamination.Overlap(finding.Side, earlier.Side) && (IsAt(told[i].Item.Place, earlier.Zone) ?? true))
                .OrderByDescending(i => told[i].Finding.Side == earlier.Side).ThenByDescending(i => IsAt(told[i].Item.Place, earlier.Zone) is true)
                .Cast<int?>().FirstOrDefault();
            if (same is { } place)
            {
                told[place] = (told[place].Item, Again(told[place].Item, told[place].Finding, earlier));
                rest = rest.Remove(at);
            }
        }

        alone = rest;
        return told.ToImmutable();
    }

    /// <summary>What is still there or worse is a finding of this review too.</summary>
    /// <param name="alone">Places in <paramref name="carried"/> that are looked at.</param>
    public static IEnumerable<Finding> Findings(ImmutableArray<CarriedFinding> carried, ImmutableHashSet<int> alone) => Numbered(carried)
        .Where((c, i) => IsOpen(c.Carried) && alone.Contains(i))
        .Select(c => new Finding(c.Id, c.Carried.Severity, c.Carried.Words.TrimEnd() + Now(c.Carried))
        {
            Check = c.Carried.Check,
            Component = c.Carried.Component,
            Side = c.Carried.Side,
            Zone = c.Carried.Zone,
            Correction = c.Carried.Correction,
            Photo = c.Carried.Photo,
            Mark = c.Carried.Mark,
            CarriedFrom = c.Carried.Finding,
        });

    /// <summary>What nobody looked at; a major or critical one keeps the verdict on hold.</summary>
    public static IEnumerable<NotSeen> NotSeen(ImmutableArray<CarriedFinding> carried) => Numbered(carried)
        .Where(c => c.Carried.Answer == CarriedAnswer.NotSeen)
        .Select(c => new NotSeen(c.Id, $"Finding of an earlier build, fixed or not: {c.Carried.Words}", c.Carried.Severity >= Severity.Major));

    /// <param name="today">The day of the review; age is empty where it is not known.</param>
    public static Table Table(ImmutableArray<CarriedFinding> carried, DateOnly? today) => new(
        "carried-over",
        "Findings of earlier builds",
        [new("finding", "Finding"), new("words", "What was wrong"), new("severity", "Severity"), new("since", "Since"), new("age", "Age"), new("owner", "Responsible"), new("by", "By when"), new("answer", "Now")],
        [.. carried.Select(c => ImmutableArray.Create<Cell>(
            c.Finding,
            c.Words,
            EnumWords.Of(c.Severity),
            Display.Day(c.Since),
            today is { } day && c.Since is { } since ? string.Create(CultureInfo.InvariantCulture, $"{day.DayNumber - since.DayNumber} days") : "",
            c.Owner ?? "",
            c.By is { } by ? Display.Day(by) + (today > by && c.Answer != CarriedAnswer.Fixed ? ", overdue" : "") : "",
            c.Answer.State().InWords()))]);

    /// <summary>Ids that findings of earlier builds have in this review.</summary>
    public static IEnumerable<string> Ids(ImmutableArray<CarriedFinding> carried) => Numbered(carried).Select(c => c.Id);

    /// <param name="lacked">Checks of parts that the pair has not.</param>
    public static IEnumerable<Fault> Faults(ImmutableArray<CarriedFinding> carried, IReadOnlySet<string> lacked)
    {
        ArgumentNullException.ThrowIfNull(lacked);
        foreach (var (finding, index) in carried.Select((c, i) => (c, i)))
        {
            if (carried.Take(index).Any(earlier => earlier.Finding == finding.Finding))
            {
                yield return new Fault($"carried[{index}].finding", $"'{finding.Finding}' stands twice", "carry each earlier finding over once");
            }

            if (IsOpen(finding) && finding.Check is { } check && lacked.Contains(check))
            {
                yield return new Fault($"carried[{index}].answer", $"the pair has none of what '{check}' looks at", "answer fixed, or answer the check otherwise: a part that belongs there and is missing is a finding");
            }
        }
    }

    private static IEnumerable<(string Id, CarriedFinding Carried)> Numbered(ImmutableArray<CarriedFinding> carried) =>
        carried.Select((c, i) => (string.Create(CultureInfo.InvariantCulture, $"carried-{i + 1}"), c));

    private static bool IsOpen(CarriedFinding carried) => carried.Answer.State().IsThere();

    /// <summary>Null where one of them does not say.</summary>
    private static bool? IsAt(string? place, string? earlier) =>
        string.IsNullOrWhiteSpace(place) || string.IsNullOrWhiteSpace(earlier) ? null : string.Equals(place.Trim(), earlier.Trim(), StringComparison.OrdinalIgnoreCase);

    /// <summary>What a check found, as the earlier finding that it is: the graver severity, and what was said then where nothing is said now.</summary>
    private static Finding Again(WalkRoundItem item, Finding found, CarriedFinding earlier) => found with
    {
        Severity = (Severity)Math.Max((int)found.Severity, (int)earlier.Severity),
        Words = (item.IsUndescribed ? earlier.Words : found.Words).TrimEnd() + Now(earlier),
        Zone = item.Place ?? earlier.Zone ?? found.Zone,
        Correction = item.Correction ?? earlier.Correction ?? found.Correction,
        Photo = found.Photo ?? earlier.Photo,
        Mark = found.Photo is null ? earlier.Mark : found.Mark,
        CarriedFrom = earlier.Finding,
    };

    /// <summary>What has become of it, to be set after the words.</summary>
    private static string Now(CarriedFinding carried)
    {
        var now = carried.Remark is { Length: > 0 } remark ? $" Now: {remark}" : "";
        return $" ({carried.Answer.State().InWords()}{(carried.Since is { } since ? $", since {Display.Day(since)}" : "")}){now}";
    }
}
