using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Duty;

/// <summary>A fact that is not known and on which the line hangs.</summary>
/// <param name="Place">Place in the facts, such as <c>outerSole.note5Durable</c>.</param>
/// <param name="Outcomes">For each answer the lines that remain.</param>
public sealed record MissingFact(string Place, string Words, ImmutableArray<(string Answer, ImmutableArray<ScheduleLine> Lines)> Outcomes);

/// <summary>The lines that a shoe can fall in, how the facts led there, and which unknown facts decide.</summary>
public sealed record Classification(ImmutableArray<ScheduleLine> Lines, ImmutableArray<Step> Steps, ImmutableArray<string> PlainReadings)
{
    private static readonly ConditionalWeakTable<Schedule, LineSearch> Searches = [];

    /// <summary>The search over a schedule; made ready once.</summary>
    public static LineSearch SearchOf(Schedule schedule, FactRules rules) => Searches.GetValue(schedule, s => new LineSearch(s, rules));

    public static Classification Of(Answers answers, LineSearch search, FactRules rules, UnknownFacts unknown)
    {
        ArgumentNullException.ThrowIfNull(search);
        var derived = Derivation.Of(answers, search, rules, unknown);
        return new Classification([.. search.Reachable(derived.Known).Select(i => search.Schedule.Lines[i])], derived.Steps, derived.PlainReadings);
    }

    /// <summary>The unknown facts whose answers leave different lines, the one that narrows most first.</summary>
    public static ImmutableArray<MissingFact> Missing(Answers answers, LineSearch search, FactRules rules, UnknownFacts unknown)
    {
        ArgumentNullException.ThrowIfNull(answers);
        ArgumentNullException.ThrowIfNull(search);
        ArgumentNullException.ThrowIfNull(rules);
        var among = search.Reachable(Derivation.Of(answers, search, rules, unknown).Known);
        if (among.Length < 2)
        {
            return [];
        }

        var missing = new List<(MissingFact Fact, double Left)>();
        foreach (var (place, words, choices) in Questions(answers, search, rules))
        {
            var outcomes = choices.Select(c => (c.Words, Lines: search.Reachable(Derivation.Of(answers.With(place, c.Answer), search, rules, unknown).Known, among)))
                .Where(o => !o.Lines.IsEmpty).ToList();
            if (outcomes.Count > 1 && outcomes.Any(o => !o.Lines.SequenceEqual(outcomes[0].Lines)))
            {
                missing.Add((new MissingFact(place, words, [.. outcomes.Select(o => (o.Words, o.Lines.Select(i => search.Schedule.Lines[i]).ToImmutableArray()))]), outcomes.Average(o => o.Lines.Length)));
            }
        }

        return [.. missing.OrderBy(m => m.Left).ThenBy(m => m.Fact.Place, StringComparer.Ordinal).Select(m => m.Fact)];
    }

    private static IEnumerable<(string Place, string Words, ImmutableArray<(string Words, object Answer)> Choices)> Questions(Answers answers, LineSearch search, FactRules rules)
    {
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var rule in rules.Facts.Where(r => search.Uses(r.Fact)))
        {
            if (rule.Rule == "worn" && Worn.Sides(answers, rules.Wearing) is { IsEmpty: false } sides)
            {
                yield return ("sizes", "Which sizes? A run over the size that parts two kinds of wearers is entered as two styles.", [.. sides.Select(s => (s.Words, (object)s.Sizes))]);
            }

            foreach (var place in rule.From)
            {
                var known = answers[place];
                if (known is bool or string || !seen.Add(place) || (place == "outerSole.countedMaterial" && answers["outerSole.greatestContact"] is null && !IsSecondPlaceOpen(answers)))
                {
                    continue;
                }

                var choices = Choices(place, rule, known as Extent, search).Where(c => c.Answer is not string word || MayBe(place, word, answers)).ToImmutableArray();
                if (!choices.IsEmpty)
                {
                    yield return (place, Words(place, rule), choices);
                }
            }
        }
    }

    /// <summary>Whether textile surely leads and is surely left out, so that all that is open is which material counts in its place.</summary>
    private static bool IsSecondPlaceOpen(Answers answers) => answers["outerSole.note5Durable"] is false && Greatest.Of(answers.Contact) is ["textile"];

    /// <summary>Whether measured shares leave a material possible.</summary>
    private static bool MayBe(string place, string material, Answers answers) => place switch
    {
        "outerSole.greatestContact" => Greatest.Of(answers.Contact) is not { } may || may.Contains(material),
        "outerSole.countedMaterial" => Sole.Of(answers).Any(s => s.Material == material),
        "upper.material" => Greatest.Of(answers.UpperArea) is not { } may || may.Contains(material),
        _ => true,
    };

    /// <summary>A fact in the words of the trade.</summary>
    internal static string Words(string place, FactRules rules) => rules.Facts.FirstOrDefault(r => r.From.Contains(place)) is { } rule ? Words(place, rule) : place;

    private static string Words(string place, FactRule rule) => place switch
    {
        "outerSole.greatestContact" => "Which material has the greatest area in contact with the ground?",
        "outerSole.note5Durable" => "Does the textile on the sole last (ISO 20871, textile left on one of three specimens)?",
        "outerSole.countedMaterial" => "Which material is next after the textile?",
        "openToe" => "Open toe?",
        "openHeel" => "Open heel?",
        "slipOn" => "Slip-on, held without laces, buckles or other fasteners?",
        "athletic" => "Tennis, basketball, gym, training shoe or the like?",
        "sewnWithVisibleStitchingFrom3cm" => "Upper wholly sewn with visible stitching from 3 cm above the sole?",
        _ => rule.Words,
    };

    private static ImmutableArray<(string Words, object Answer)> Choices(string place, FactRule rule, Extent? known, LineSearch search) => place switch
    {
        "outerSole.greatestContact" or "outerSole.countedMaterial" or "upper.material" => [.. Materials.Of.Where(m => place != "upper.material" || m is not ("wood" or "cork")).Select(m => (m, (object)m))],
        "upper.fibre" => [("vegetable", "vegetable"), ("non-vegetable", "non-vegetable")],
        "base" => [("wood", "wood"), ("cork", "cork"), ("neither", "other")],
        "wearer" => [("men, youths or boys", "men"), ("women", "women"), ("unisex or small children", "unisex")],
        _ when rule.Rule == "number" => [.. Ranges(rule.Fact, known, search)],
        _ => [("yes", true), ("no", false)],
    };

    private static IEnumerable<(string Words, object Answer)> Ranges(string fact, Extent? known, LineSearch search)
    {
        var thresholds = search.Thresholds(fact);
        for (var i = 0; i <= thresholds.Length; i++)
        {
            var low = i == 0 ? double.NegativeInfinity : thresholds[i - 1];
            var high = i == thresholds.Length ? double.PositiveInfinity : thresholds[i];
            if (known is null || known.MayLieBetween(low, high))
            {
                yield return (i == 0 ? FormattableString.Invariant($"under {high}") : i == thresholds.Length ? FormattableString.Invariant($"over {low}") : FormattableString.Invariant($"over {low}, under {high}"), new Extent(null, low, false, high, false, ""));
            }

            if (i < thresholds.Length && (known is null || known.MayBe(thresholds[i])))
            {
                yield return (FormattableString.Invariant($"exactly {thresholds[i]}"), new Extent(null, thresholds[i], true, thresholds[i], true, ""));
            }
        }
    }
}
