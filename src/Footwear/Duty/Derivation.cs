using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Duty;

/// <summary>One step of the way from the facts to the line.</summary>
/// <param name="Answer">The fact that answered, or that it is open.</param>
public sealed record Step(string Fact, string Question, string Answer, string Law, string Place, bool IsOpen);

/// <summary>From the facts of a shoe to the cells of a <see cref="LineSearch"/>, by the rules of <c>data/tariff/facts.json</c>.</summary>
public sealed record Derivation(Known Known, ImmutableArray<Step> Steps, ImmutableArray<string> PlainReadings)
{
    public static Derivation Of(Answers answers, LineSearch search, FactRules rules, UnknownFacts unknown)
    {
        ArgumentNullException.ThrowIfNull(answers);
        ArgumentNullException.ThrowIfNull(search);
        ArgumentNullException.ThrowIfNull(rules);
        var cells = search.Open();
        var clauses = ImmutableArray<ImmutableArray<CellsOf>>.Empty;
        var steps = ImmutableArray.CreateBuilder<Step>();
        var plain = ImmutableArray.CreateBuilder<string>();
        foreach (var rule in rules.Facts.Where(r => search.Uses(r.Fact)))
        {
            var all = cells[search.IndexOf(rule.Fact)];
            var (found, answer) = rule.Rule switch
            {
                "sole" => SoleAnswer(rule.Fact, answers, search, ref clauses),
                _ => (Cells(rule, answers, search, rules), Given(rule, answers)),
            };
            found &= all;
            var isOpen = found == all || System.Numerics.BitOperations.PopCount(found) > 1;
            if (isOpen && unknown == UnknownFacts.Plain && !IsUndecided(rule, answers, all, found) && PlainCells(rule, answers, search) is { } read && (read & found) != 0)
            {
                found &= read;
                isOpen = false;
                answer = $"read as the plain case: {PlainWord(rule)}";
                plain.Add($"{rule.Words.TrimEnd('?')}: not known, read as the plain case ({PlainWord(rule)}).");
            }

            cells[search.IndexOf(rule.Fact)] = found;
            steps.Add(new Step(rule.Fact, rule.Words, isOpen && answer.Length == 0 ? "open" : answer, rule.Law, rule.From[0], isOpen));
        }

        return new Derivation(new Known(cells, clauses.AddRange(OfAny(answers, search))), steps.ToImmutable(), plain.ToImmutable());
    }

    private static string PlainWord(FactRule rule) => rule.Plain?.ValueKind switch
    {
        JsonValueKind.True or JsonValueKind.False => FactWords.Of(rule.Plain.Value.GetBoolean()),
        _ => rule.Plain.ToString()!,
    };

    private static string Given(FactRule rule, Answers answers) => string.Join(", ", Places(rule).Where(f => answers[f] is not null)
        .Select(f => f == rule.From[0] && rule.From.Length == 1 ? FactWords.Said(answers[f]!) : $"{FactWords.Of(f)}: {FactWords.Said(answers[f]!)}"));

    private static IEnumerable<string> Places(FactRule rule) => rule.From.Concat(rule.With);

    /// <summary>Something was measured or told of it that leaves it open: that is not the plain case of a fact nobody knows.</summary>
    private static bool IsUndecided(FactRule rule, Answers answers, uint all, uint found) => rule.Rule switch
    {
        "number" => answers[rule.From[0]] is Extent { SaysNothing: false },
        "band" => found == all && rule.With.Any(f => answers[f] is Extent { SaysNothing: false }),
        "worn" => Places(rule).Any(p => answers[p] is not null),
        _ => rule.From.Any(f => answers[f] is null && answers.Undecided.Contains(f)),
    };

    private static uint Cells(FactRule rule, Answers answers, LineSearch search, FactRules rules)
    {
        var all = uint.MaxValue;
        var first = answers[rule.From[0]];
        return rule.Rule switch
        {
            "same" => first switch { bool truth => LineSearch.True(truth), string word => search.Word(rule.Fact, word), _ => all },
            "map" => first is string word ? search.Word(rule.Fact, rule.Map!.GetValueOrDefault(word, rule.Plain!.Value.GetString()!)) : all,
            "worn" => Worn.Of(answers, rules.Wearing) is { IsEmpty: false } worn ? worn.Aggregate(0u, (cells, w) => cells | search.Word(rule.Fact, rule.Map!.GetValueOrDefault(w, rule.Plain!.Value.GetString()!))) : all,
            "number" => first is Extent extent ? search.Number(rule.Fact, extent) : all,
            "any" => rule.From.Any(f => answers[f] is true) ? LineSearch.True(true) : rule.From.All(f => answers[f] is false) ? LineSearch.True(false) : all,
            "unless" => answers[rule.From[1]] is true || first is false ? LineSearch.True(false) : first is true && answers[rule.From[1]] is false ? LineSearch.True(true) : all,
            "band" => first is bool present ? LineSearch.True(present) : Band(answers, rules),
            "upper" => Upper(rule.Fact, answers, search),
            _ => throw new FaultsException(new Fault($"data/{FactRules.File}", $"has a rule '{rule.Rule}' that is not known", "use same, any, unless, map, number, worn, band, upper or sole")),
        };
    }

    /// <remarks>T.D. 92-108 and the rulings on overlap: too little of the perimeter, or an overlap under the least of every run of sizes the wearer may be in, is no band; enough of both in all of them is one; between, undecided.</remarks>
    private static uint Band(Answers answers, FactRules rules)
    {
        var overlap = answers["foxingLikeBand.overlapInch"] as Extent;
        var round = answers["foxingLikeBand.encirclementPct"] as Extent;
        var runs = rules.Band.Of(answers, rules.Wearing);
        return round?.High < rules.Band.NoneBelowPct || overlap?.High < runs.Min(r => r.LeastInch) ? LineSearch.True(false)
            : round?.Low > rules.Band.BandAbovePct && overlap?.Low >= runs.Max(r => r.LeastInch) ? LineSearch.True(true)
            : uint.MaxValue;
    }

    private static uint Upper(string fact, Answers answers, LineSearch search) => answers["upper.material"] is string material
        ? search.Word(fact, material)
        : Greatest.Of(answers.UpperArea) is { } may ? may.Aggregate(0u, (cells, m) => cells | search.Word(fact, m)) : uint.MaxValue;

    private static uint? PlainCells(FactRule rule, Answers answers, LineSearch search) => rule.Plain is not { } plain ? null : rule.Rule switch
    {
        "unless" => LineSearch.True(answers[rule.From[0]] is true && answers[rule.From[1]] is not true),
        "any" when answers[rule.From[0]] is true => LineSearch.True(true),
        _ => plain.ValueKind switch
        {
            JsonValueKind.True or JsonValueKind.False => LineSearch.True(plain.GetBoolean()),
            JsonValueKind.String => search.Word(rule.Fact, plain.GetString()!),
            JsonValueKind.Number => search.Number(rule.Fact, Extent.Of(Measuring.Measured.Exact(plain.GetDouble(), ""))),
            _ => null,
        },
    };

    private static (uint Cells, string Answer) SoleAnswer(string fact, Answers answers, LineSearch search, ref ImmutableArray<ImmutableArray<CellsOf>> clauses)
    {
        var possible = Sole.Of(answers);
        var both = search.Uses("soleMaterial") && search.Uses("uncountedTextileIsGreatestContact");
        var words = string.Join("; or ", possible.Select(p => p.Words).Distinct());
        if (fact == "soleMaterial")
        {
            if (both)
            {
                foreach (var left in new[] { true, false })
                {
                    var sole = possible.Where(p => p.TextileLeftOut == left).Aggregate(0u, (cells, p) => cells | search.Word(fact, p.Material));
                    clauses = clauses.Add([new CellsOf("uncountedTextileIsGreatestContact", LineSearch.True(!left)), new CellsOf(fact, sole)]);
                }
            }

            return (possible.Aggregate(0u, (cells, p) => cells | search.Word(fact, p.Material)), possible.Length > 6 ? "" : words);
        }

        return (possible.Aggregate(0u, (cells, p) => cells | LineSearch.True(p.TextileLeftOut)), possible.Length > 6 ? "" : words);
    }

    private static IEnumerable<ImmutableArray<CellsOf>> OfAny(Answers answers, LineSearch search)
    {
        if (!search.Uses("sportsOrAthletic") || !search.Uses("sports") || answers["athletic"] is not false)
        {
            yield break;
        }

        yield return [new CellsOf("sportsOrAthletic", LineSearch.True(false)), new CellsOf("sports", LineSearch.True(true))];
    }
}

/// <summary>A possible answer on the sole: the material that counts, and whether textile leads but is left out.</summary>
public sealed record Sole(string Material, bool TextileLeftOut, string Words)
{
    /// <summary>All answers that the known facts allow (note 4(b), additional U.S. note 5).</summary>
    public static ImmutableArray<Sole> Of(Answers answers)
    {
        ArgumentNullException.ThrowIfNull(answers);
        var leading = answers["outerSole.greatestContact"] is string given ? [given] : Greatest.Of(answers.Contact) ?? Materials.Of;
        var counted = answers["outerSole.countedMaterial"] as string;
        var durable = answers["outerSole.note5Durable"] as bool?;
        var possible = new List<Sole>();
        foreach (var material in leading)
        {
            if (material != "textile")
            {
                possible.Add(new Sole(material, false, $"{material} has the greatest contact"));
                continue;
            }

            if (durable is not false)
            {
                possible.Add(new Sole("textile", false, "textile has the greatest contact and counts"));
            }

            if (durable is not true)
            {
                possible.AddRange(Next(answers).Select(n => new Sole(n, true, $"textile has the greatest contact and is left out as not durable, next is {n}")));
            }
        }

        return [.. possible.Where(p => counted is null || p.Material == counted)];
    }

    private static IEnumerable<string> Next(Answers answers)
    {
        if (Greatest.Without(answers.Contact, "textile") is { } next)
        {
            return next;
        }

        foreach (var place in new[] { "outerSole.base", "outerSole.overlay" })
        {
            if (answers[place] is string under && under != "textile" && Materials.Law(under) is { } material)
            {
                return [material];
            }
        }

        return Materials.Of.Where(m => m != "textile");
    }
}
