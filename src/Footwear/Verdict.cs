using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Text.Json.Serialization;
using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>The four words of a verdict, from best to worst.</summary>
public enum VerdictWord
{
    [JsonStringEnumMemberName("pass")]
    Pass,

    [JsonStringEnumMemberName("pass with corrections")]
    PassWithCorrections,

    [JsonStringEnumMemberName("hold")]
    Hold,

    [JsonStringEnumMemberName("reject")]
    Reject,
}

/// <summary>A reason of a verdict.</summary>
/// <param name="Rule">Id of the rule in <c>data/verdict/rules.json</c>.</param>
/// <param name="Address">The figure, finding or check that it rests on.</param>
/// <param name="Words">A sentence.</param>
public sealed record Reason(string Rule, FullAddress Address, string Words);

/// <summary>The fold of all rulings and findings by stated rules.</summary>
/// <param name="Because">What brought the verdict to its word, worst first.</param>
/// <param name="WouldChange">What, put right together, makes it better; empty for a pass.</param>
/// <param name="NotSeen">Everything not seen or missing, required or not.</param>
public sealed record Verdict(VerdictWord Word, ImmutableArray<Reason> Because, ImmutableArray<Reason> WouldChange, ImmutableArray<Reason> NotSeen, ImmutableArray<VerdictRule> Rules)
{
    /// <summary>Folds outcomes by the rules.</summary>
    public static Verdict Of(IEnumerable<Outcome> outcomes, VerdictRules rules) => VerdictFold.Of([.. outcomes], rules);
}

/// <summary>What a rule looks at.</summary>
public enum VerdictTrigger
{
    /// <summary>A finding of the severity.</summary>
    Finding,

    /// <summary>A figure ruled outside a limit of the severity.</summary>
    Outside,

    /// <summary>A figure ruled undecided against a limit of the severity.</summary>
    Undecided,

    /// <summary>A lot that its sampling plan refuses; severity does not count.</summary>
    Refused,

    /// <summary>A required check not seen, or a limit whose figure is missing; severity does not count.</summary>
    NotSeen,
}

/// <summary>One rule: so many of these give this word.</summary>
/// <param name="On">Any of these counts.</param>
/// <param name="FromCount">The word is reached from this many on, counted over all triggers of the rule.</param>
public sealed record VerdictRule(
    [RegularExpression(Id.Pattern)] string Id,
    [MinLength(1)] ImmutableArray<VerdictTrigger> On,
    Severity? Severity,
    [Range(1, 10_000)] int FromCount,
    VerdictWord Gives,
    [MinLength(1)] string Words);

/// <summary>The rules file.</summary>
public sealed record VerdictRules(string Edition, string Source, ImmutableArray<VerdictRule> Rules)
{
    public const string File = "verdict/rules.json";
}

internal static class VerdictFold
{
    public static Verdict Of(ImmutableArray<Outcome> outcomes, VerdictRules rules)
    {
        var entries = outcomes.SelectMany(o => o.Figures.Select(f => f.Label).Distinct()).CountBy(l => l, StringComparer.Ordinal).ToDictionary(StringComparer.Ordinal);
        var events = outcomes.SelectMany(o => Events(o, f => Named(o, f, entries[f.Label] > 1))).ToImmutableArray();
        var because = ImmutableArray.CreateBuilder<(VerdictWord Word, Reason Reason, string Change)>();
        foreach (var rule in rules.Rules)
        {
            var matching = events.Where(e => Fires(rule, e)).ToImmutableArray();
            if (matching.Length >= rule.FromCount)
            {
                because.AddRange(matching.Select(e => (rule.Gives, new Reason(rule.Id, e.Address, e.Words), e.Change)));
            }
        }

        var word = because.Count == 0 ? VerdictWord.Pass : because.Max(b => b.Word);
        var worst = because.Where(b => b.Word == word && word != VerdictWord.Pass).ToImmutableArray();
        var all = because.OrderByDescending(b => b.Word).Select(b => b.Reason).ToImmutableArray();
        return new Verdict(
            word,
            all,
            [.. worst.DistinctBy(w => (w.Reason.Address, w.Change)).Select(w => w.Reason with { Words = w.Change })],
            [.. outcomes.SelectMany(o => o.NotSeen.Select(n => new Reason(n.Required ? "required" : "optional", o.Address.Of(n.Id), n.Words)))],
            rules.Rules);
    }

    private static bool Fires(VerdictRule rule, Event e) =>
        rule.On.Contains(e.Trigger) && (e.Trigger is VerdictTrigger.NotSeen or VerdictTrigger.Refused || rule.Severity is null || rule.Severity == e.Severity);

    /// <summary>A figure by its label, and by what tells it from others of that label: its id within an entry, its entry among those of left and right.</summary>
    private static string Named(Outcome outcome, Figure figure, bool isOfSeveralEntries) => figure.Label
        + (isOfSeveralEntries && outcome.Address.Name is { Length: > 0 } name ? $" ({name})" : "")
        + (outcome.Figures.Count(f => f.Label == figure.Label) > 1 ? $" ({figure.Id})" : "");

    /// <param name="named">Tells it from others of its label.</param>
    private static IEnumerable<Event> Events(Outcome outcome, Func<Figure, string> named)
    {
        foreach (var figure in outcome.Figures)
        {
            if (figure is { Limit: { } limit, Ruling: Ruling.Outside or Ruling.Undecided })
            {
                var trigger = figure.Ruling == Ruling.Outside ? VerdictTrigger.Outside : VerdictTrigger.Undecided;
                yield return new Event(trigger, limit.Severity, outcome.Address.Of(figure.Id), RulingWords(named(figure), figure, limit), WhatMoves(named(figure), figure, limit));
            }
        }

        foreach (var finding in outcome.Findings)
        {
            yield return new Event(VerdictTrigger.Finding, finding.Severity, outcome.Address.Of(finding.Id), finding.Words, finding.Correction ?? "put right: " + finding.Words);
            if (finding.RefusesLot)
            {
                yield return new Event(VerdictTrigger.Refused, finding.Severity, outcome.Address.Of(finding.Id), finding.Words, finding.Correction ?? "put right: " + finding.Words);
            }
        }

        foreach (var notSeen in outcome.NotSeen.Where(n => n.Required))
        {
            yield return new Event(VerdictTrigger.NotSeen, Severity.Major, outcome.Address.Of(notSeen.Id), notSeen.Words, "see it: " + notSeen.Words);
        }
    }

    private static string RulingWords(string name, Figure figure, Limit limit) => figure.Ruling == Ruling.Outside
        ? $"{name} is {Shown(figure)}, outside {Shown(limit, figure)}"
        : $"{name} is {Shown(figure)}: it lies in {Shown(limit, figure)} with a probability of {Percent(figure.Conformance!.Value)}, neither proved inside nor outside";

    private static string WhatMoves(string name, Figure figure, Limit limit) => figure.Ruling == Ruling.Outside
        ? $"{name}: bring it into {Shown(limit, figure)}"
        : $"{name}: measure it more closely, or move it away from the limit {Shown(limit, figure)}";

    private static string Shown(Figure figure) => figure.WorstPiece.Length > 0 ? $"{Display.Of(figure.Measured)} ({figure.WorstPiece})" : Display.Of(figure.Measured);

    private static string Shown(Limit limit, Figure figure) => Display.Of(limit, figure.Measured.Unit);

    private static string Percent(double probability) => (probability * 100).ToString("0.#", CultureInfo.InvariantCulture) + " %";

    private sealed record Event(VerdictTrigger Trigger, Severity Severity, FullAddress Address, string Words, string Change);
}
