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
    /// <summary>What is still there or worse is a finding of this review too.</summary>
    public static IEnumerable<Finding> Findings(ImmutableArray<CarriedFinding> carried) => Numbered(carried)
        .Where(c => c.Carried.Answer is CarriedAnswer.StillThere or CarriedAnswer.Worse)
        .Select(c => new Finding(c.Id, c.Carried.Severity, Words(c.Carried))
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
            c.Severity.ToString().ToLowerInvariant(),
            Display.Day(c.Since),
            today is { } day && c.Since is { } since ? string.Create(CultureInfo.InvariantCulture, $"{day.DayNumber - since.DayNumber} days") : "",
            c.Owner ?? "",
            c.By is { } by ? Display.Day(by) + (today > by && c.Answer != CarriedAnswer.Fixed ? ", overdue" : "") : "",
            Word(c.Answer)))]);

    /// <summary>Ids that findings of earlier builds have in this review.</summary>
    public static IEnumerable<string> Ids(ImmutableArray<CarriedFinding> carried) => Numbered(carried).Select(c => c.Id);

    public static IEnumerable<Fault> Faults(ImmutableArray<CarriedFinding> carried) => carried
        .Select((c, i) => (c.Finding, Index: i))
        .GroupBy(c => c.Finding, StringComparer.Ordinal)
        .SelectMany(g => g.Skip(1).Select(c => new Fault($"carried[{c.Index.ToString(CultureInfo.InvariantCulture)}].finding", $"'{c.Finding}' stands twice", "carry each earlier finding over once")));

    public static string Word(CarriedAnswer answer) => answer switch
    {
        CarriedAnswer.Fixed => "fixed",
        CarriedAnswer.StillThere => "still there",
        CarriedAnswer.Worse => "worse",
        _ => "not seen",
    };

    private static IEnumerable<(string Id, CarriedFinding Carried)> Numbered(ImmutableArray<CarriedFinding> carried) =>
        carried.Select((c, i) => (string.Create(CultureInfo.InvariantCulture, $"carried-{i + 1}"), c));

    private static string Words(CarriedFinding carried)
    {
        var now = carried.Remark is { Length: > 0 } remark ? $" Now: {remark}" : "";
        return $"{carried.Words.TrimEnd()} ({Word(carried.Answer)}{(carried.Since is { } since ? $", since {Display.Day(since)}" : "")}){now}";
    }

}
