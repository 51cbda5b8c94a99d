using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Duty;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Marking;

/// <summary>Box, labels, sole and tags: whether they agree with each other and with the pair, and what the law of the market asks for and does not find.</summary>
public sealed class MarkingExamination : Examination<MarkingEvidence>
{
    private const double Whole = 100;

    private const double WholeWithin = 2;

    public override string Name => "marking";

    public override string Title => "Marking";

    public override int Order => 50;

    public override bool LooksAtSubject => true;

    public override Outcome Examine(MarkingEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var rules = surroundings.Catalogue.Read<MarkingRules>(MarkingRules.File);
        var systems = surroundings.Catalogue.Read<SizeSystems>(SizeSystems.File);
        var places = Named(evidence.Places);
        var faults = new List<Fault>();
        Check(evidence, faults);
        var sizes = SizeAgreement.Of(systems, places, faults);
        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        ImmutableArray<Market> markets = [.. evidence.Markets.Distinct()];
        var stated = evidence.Wearer ?? surroundings.Subject.Pair.Wearer;
        var wearer = WearerWords.Of(stated);
        var pair = SizeOf(surroundings.Subject.Pair, wearer, systems);
        var ofMarkets = rules.Rules.Where(r => markets.Contains(r.Market)).ToImmutableArray();
        var asked = ofMarkets.Where(r => r.Wearer is null || WearerWords.Of(r.Wearer) == wearer).ToImmutableArray();
        var statements = Compositions(evidence).Select(c => CompositionStatement.Of(c, rules.Composition)).ToImmutableArray();
        var origin = new OriginMarks(rules, places, evidence.Origin ?? surroundings.Subject.Pair.Origin, markets.Contains(Market.Us));
        return new Outcome
        {
            Figures = [.. sizes.Figures(), .. Compositions(evidence).SelectMany(c => Shares(c, rules))],
            Findings =
            [
                .. sizes.Findings(evidence.Chart, pair),
                .. Differing(places, "code", "Codes", p => p.Code),
                .. Differing(places, "colourway", "Colourways", p => p.Colourway),
                .. origin.Findings(),
                .. asked.Where(r => !r.IsMetBy(evidence.Places)).Select(Absent),
                .. markets.Where(m => m is Market.Eu or Market.Uk).Take(1).SelectMany(m => statements.SelectMany(s => Wrong(s, places, m == Market.Eu ? rules.Composition.Reference : rules.Composition.BritishReference))),
            ],
            NotSeen = [.. NotSeen(evidence, sizes, markets, statements, origin), .. NotAsked(stated, wearer, ofMarkets.Where(r => r.Wearer is not null && !r.IsMetBy(evidence.Places))), .. NotCompared(surroundings.Subject.Pair, pair, sizes, systems)],
            Tables =
            [
                MarkingTables.Said(places, systems),
                .. statements.IsEmpty ? Array.Empty<Table>() : [MarkingTables.Statements(statements, places)],
                .. sizes.Conversions() is { } conversions ? [conversions] : Array.Empty<Table>(),
                .. asked.IsEmpty ? Array.Empty<Table>() : [MarkingTables.Asked(asked, evidence.Places)],
            ],
            Assumptions = [.. MarkingWords.Assumptions(evidence, surroundings, markets, places)],
            Cautions = [.. MarkingWords.Cautions(markets, statements, wearer, rules, origin)],
            Basis =
            [
                .. asked.Select(r => new Basis(r.Kind, r.Reference, r.Edition)),
                .. statements.IsEmpty ? Array.Empty<Basis>() : [new Basis(BasisKind.Law, rules.Composition.Reference, "consolidated 2013-07-01")],
                .. sizes.HasSizes ? [new Basis(BasisKind.Standard, "ISO/TS 19407, conversion of sizing systems (rows read second hand)", "2015"), new Basis(BasisKind.Standard, "ISO 9407, Mondopoint", "2019")] : Array.Empty<Basis>(),
            ],
        };
    }

    /// <summary>Parts without a share are not stated yet.</summary>
    private static ImmutableArray<PartComposition> Compositions(MarkingEvidence evidence) => [.. evidence.Composition.Where(c => !c.Stated.IsEmpty)];

    private static void Check(MarkingEvidence evidence, List<Fault> faults)
    {
        var compositions = evidence.Composition;
        for (var i = 0; i < compositions.Length; i++)
        {
            var stated = compositions[i].Stated;
            var where = string.Create(CultureInfo.InvariantCulture, $"composition[{i}]");
            if (!stated.IsEmpty && Math.Abs(stated.Sum(s => s.Share.Value) - Whole) > WholeWithin)
            {
                faults.Add(new Fault(where, string.Create(CultureInfo.InvariantCulture, $"adds up to {stated.Sum(s => s.Share.Value):0.#} %"), "give the shares of all materials of the part; they add up to 100 %"));
            }
        }

        faults.AddRange(compositions.GroupBy(c => c.Part).Where(g => g.Count() > 1).Select(g => new Fault("composition", $"has the {EnumWords.Of(g.Key)} {g.Count()} times", "give each part once")));
        faults.AddRange(evidence.Places.SelectMany((p, i) => p.Materials.GroupBy(m => m.Part).Where(g => g.Count() > 1)
            .Select(g => new Fault(string.Create(CultureInfo.InvariantCulture, $"places[{i}].materials"), $"has the {EnumWords.Of(g.Key)} {g.Count()} times", "give each part once"))));
    }

    /// <summary>Each place with a name of its own: its id, or what and where it is.</summary>
    private static ImmutableArray<(MarkedPlace Place, string Name)> Named(ImmutableArray<MarkedPlace> places)
    {
        var taken = new HashSet<string>(StringComparer.Ordinal);
        var named = ImmutableArray.CreateBuilder<(MarkedPlace, string)>(places.Length);
        foreach (var place in places)
        {
            var name = place.Id ?? (place.Side is { } side and not Side.Both ? $"{EnumWords.Of(place.Place)}-{EnumWords.Of(side)}" : EnumWords.Of(place.Place));
            var own = name;
            for (var i = 2; !taken.Add(own); i++)
            {
                own = string.Create(CultureInfo.InvariantCulture, $"{name}-{i}");
            }

            named.Add((place, own));
        }

        return named.MoveToImmutable();
    }

    private static IEnumerable<Figure> Shares(PartComposition composition, MarkingRules rules)
    {
        var part = rules.Composition.Parts.First(p => p.Part == composition.Part);
        return composition.Stated.Select(s => new Figure($"{EnumWords.Of(composition.Part)}.{EnumWords.Of(s.Material)}", $"{part.Label}: {CompositionStatement.Words(s.Material)}, share of {part.Basis}", s.Share));
    }

    /// <summary>The size that the pair is said to have, in a system of the data; null where it is not stated so.</summary>
    private static (string System, double Size)? SizeOf(Pair pair, Wearer wearer, SizeSystems systems)
    {
        var stated = pair.SizeSystem?.Trim() ?? "";
        var system = (stated.ToUpperInvariant(), wearer) switch
        {
            ("EU", _) => "eur",
            ("US" or "USA", Wearer.Men) => "us-men",
            ("US" or "USA", Wearer.Women) => "us-women",
            ("US" or "USA", Wearer.Children) => "us-child",
            _ => systems.Systems.FirstOrDefault(s => string.Equals(s.Label, stated, StringComparison.OrdinalIgnoreCase) || s.Id == stated)?.Id,
        };
        return system is not null && pair.Size is { } written && WrittenSize.Read(written) is { } size ? (system, size) : null;
    }

    /// <summary>Rules for some wearers alone, of which nobody can tell whether they hold for this pair, and which its marks do not meet anyway.</summary>
    private static IEnumerable<NotSeen> NotAsked(string? stated, Wearer wearer, IEnumerable<MarkingRule> rules)
    {
        if (wearer == Wearer.Unknown && string.Join("; ", rules.Select(r => $"{r.Asks} ({r.Reference})")) is { Length: > 0 } asks)
        {
            yield return new NotSeen(
                "made-for",
                $"{(string.IsNullOrWhiteSpace(stated) ? "Who the pair is made for is not stated" : $"Who the pair is made for, '{stated.Trim()}', is none of men, women, children and unisex")}: what is asked for some alone was not asked: {asks}.",
                false);
        }
    }

    /// <summary>Why the size of the pair was not held against the marks.</summary>
    private static IEnumerable<NotSeen> NotCompared(Pair pair, (string System, double Size)? known, SizeAgreement sizes, SizeSystems systems)
    {
        if (string.IsNullOrWhiteSpace(pair.Size) || !sizes.HasSizes)
        {
            yield break;
        }

        var stated = $"The size of the pair, {pair.Size.Trim()}{(string.IsNullOrWhiteSpace(pair.SizeSystem) ? "" : $" in {pair.SizeSystem.Trim()}")}, was not held against the marks";
        if (known is not { } size)
        {
            yield return new NotSeen("size-of-the-pair", $"{stated}: {(WrittenSize.Read(pair.Size) is null ? "it is not a size as they are written, such as 42, 8.5 or 42 2/3" : $"name its system as one of {string.Join(", ", systems.Systems.Select(s => s.Label))}")}.", false);
        }
        else if (!sizes.Has(size.System))
        {
            yield return new NotSeen("size-of-the-pair", $"{stated}: no mark that was read states {systems.Named(size.System)!.Label}.", false);
        }
    }

    private static IEnumerable<Finding> Differing(ImmutableArray<(MarkedPlace Place, string Name)> places, string id, string label, Func<MarkedPlace, string?> property)
    {
        var stated = places.Select(p => (p.Name, Text: property(p.Place)?.Trim() ?? "")).Where(p => p.Text.Length > 0).ToImmutableArray();
        if (stated.Select(s => s.Text.ToUpperInvariant()).Distinct(StringComparer.Ordinal).Count() > 1)
        {
            yield return new Finding($"{id}-differs", Severity.Major, $"{label} differ: {string.Join(", ", stated.Select(s => $"{s.Name} {s.Text}"))}.")
            {
                Component = "marking",
                Correction = "Find out which is right and mark everything alike; look whether pairs were packed into wrong boxes.",
            };
        }
    }

    private static Finding Absent(MarkingRule rule) => new($"{rule.Id}-absent", rule.Severity, $"Not found: {rule.Asks} ({rule.Reference}).")
    {
        Component = "marking",
        Correction = rule.Correction,
    };

    private static IEnumerable<Finding> Wrong(CompositionStatement statement, ImmutableArray<(MarkedPlace Place, string Name)> places, string law)
    {
        foreach (var (place, name) in places)
        {
            var said = place.Materials.Where(m => m.Part == statement.Part.Part).ToImmutableArray();
            foreach (var wrong in said.Where(s => statement.Allows(s.Materials) == false))
            {
                var right = statement.Must.IsEmpty ? string.Join(" or ", statement.May.Select(CompositionStatement.Words)) : CompositionStatement.Words(statement.Must);
                yield return new Finding($"{name}-{EnumWords.Of(statement.Part.Part)}-misstated", Severity.Major, $"{name} says {CompositionStatement.Words(wrong.Materials)} for the {statement.Part.Label.ToLowerInvariant()}. {statement.Because}")
                {
                    Component = "marking",
                    Correction = $"State {right} for the {statement.Part.Label.ToLowerInvariant()} ({law}).",
                    Photo = place.Photo,
                };
            }

            if (!place.Materials.IsEmpty && said.IsEmpty)
            {
                yield return new Finding($"{name}-{EnumWords.Of(statement.Part.Part)}-unstated", Severity.Major, $"{name} states materials but not those of the {statement.Part.Label.ToLowerInvariant()}.")
                {
                    Component = "marking",
                    Correction = "State all three parts: upper, lining and sock, outer sole.",
                    Photo = place.Photo,
                };
            }
        }
    }

    private static IEnumerable<NotSeen> NotSeen(MarkingEvidence evidence, SizeAgreement sizes, ImmutableArray<Market> markets, ImmutableArray<CompositionStatement> statements, OriginMarks origin)
    {
        if (!sizes.HasSizes)
        {
            yield return new NotSeen("size", "No size was read: look at box, tongue and sole.", false);
        }

        if (!evidence.Places.Any(p => MarkingRule.IsShoe(p.Place)))
        {
            yield return new NotSeen("shoe", "No mark on the shoe itself was looked at.", false);
        }

        if (markets.Any(m => m is Market.Eu or Market.Uk))
        {
            foreach (var part in Enum.GetValues<StatedPart>().Where(p => statements.All(s => s.Part.Part != p)))
            {
                yield return new NotSeen($"{EnumWords.Of(part)}-composition", $"The shares of the materials of the {EnumWords.Of(part).Replace('-', ' ')} are not given, so its statement cannot be checked.", false);
            }
        }

        foreach (var open in statements.Where(s => s.Must.IsEmpty))
        {
            yield return new NotSeen($"{EnumWords.Of(open.Part.Part)}-statement", $"{open.Because} Measure the shares better.", true);
        }

        foreach (var words in origin.NotJudged())
        {
            yield return new NotSeen("origin-quality", words, false);
        }
    }
}
