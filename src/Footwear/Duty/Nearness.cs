using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>Which single facts, changed alone, would change the line, how far away that is, and what it is worth.</summary>
internal static class Nearness
{
    private const double Cent = 0.01;

    /// <summary>With more lines than these the shoe is not known well enough to ask what one fact would do.</summary>
    private const int MostLines = 4;

    public static Table? Table(Answers answers, Measured? value, DutyEvidence evidence, LineSearch search, FactRules rules, Classification found)
    {
        if (found.Lines.Length > MostLines)
        {
            return null;
        }

        var codes = found.Lines.Select(l => l.Code).ToImmutableArray();
        var rows = new List<ImmutableArray<Cell>>();
        void Try(string fact, string distance, Answers changed, Measured? changedValue)
        {
            var then = Classification.Of(changed, search, rules, evidence.Unknown).Lines;
            // A fact that the others exclude leads nowhere.
            if (then.IsEmpty || then.Select(l => l.Code).SequenceEqual(codes))
            {
                return;
            }

            var money = value is null || changedValue is null || Duties(found.Lines, value, search) is not [var pays]
                ? ""
                : Difference([.. Duties(then, changedValue, search).Select(d => d - pays)], evidence.VolumePerYear, search.Schedule.Currency);
            rows.Add([Classification.Words(fact, rules).TrimEnd('?'), distance, then.Length > 4 ? $"{then.Length} lines" : string.Join(", ", then.Select(l => $"{l.Code} ({l.RateText})")), money]);
        }

        if (Greatest.Lead(answers.Contact) is { } lead)
        {
            Try("outerSole.greatestContact", $"lead of {lead.First} over {lead.Second} {Display.Of(lead.Lead)}", answers.With("outerSole.greatestContact", lead.Second), value);
        }

        if (search.Uses("valueUsdPerPair") && answers["valueUsdPerPair"] is Extent { Measured: { } paid })
        {
            foreach (var edge in search.Thresholds("valueUsdPerPair"))
            {
                var beyond = Measured.Exact(edge >= paid.Value ? edge + Cent : edge, paid.Unit);
                Try("valueUsdPerPair", string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(beyond.Value - paid.Value):0.00} USD {(beyond.Value > paid.Value ? "more" : "less")}, assists included"), answers.With("valueUsdPerPair", Extent.Of(beyond)), beyond);
            }
        }

        foreach (var (place, answer) in answers.ByPlace.Where(a => a.Value is bool).OrderBy(a => a.Key, StringComparer.Ordinal))
        {
            Try(place, Distance(place, answers, rules, (bool)answer), answers.With(place, !(bool)answer), value);
        }

        if (answers["foxingLikeBand.present"] is null && BandWords(answers, rules) is { Length: > 0 } band)
        {
            Try("foxingLikeBand.present", band, answers.With("foxingLikeBand.present", true), value);
            Try("foxingLikeBand.present", band, answers.With("foxingLikeBand.present", false), value);
        }

        return rows.Count == 0 ? null : new Table(
            "near",
            "Single facts that would change the line",
            [new("fact", "fact"), new("distance", "how far"), new("then", "then"), new("difference", evidence.VolumePerYear is null ? "difference per pair" : "difference per pair and per year")],
            [.. rows]);
    }

    private static string Distance(string place, Answers answers, FactRules rules, bool now) => place switch
    {
        "foxingLikeBand.present" when BandWords(answers, rules) is { Length: > 0 } words => words,
        _ when FromTest(place, answers, rules) is { Length: > 0 } words => words,
        _ => now ? "if it were not so" : "if it were so",
    };

    private static string FromTest(string place, Answers answers, FactRules rules) => string.Join("; ", rules.Tests.Where(t => t.Place == place).SelectMany(t => t.If.Select(i => (Test: t, Atom: i))).DistinctBy(t => t.Atom.Fact)
        .Where(t => answers[t.Atom.Fact] is Extent { Measured: not null } && t.Atom.Thresholds.Any())
        .Select(t =>
        {
            var (number, edge) = (((Extent)answers[t.Atom.Fact]!).Measured!, t.Atom.Thresholds.First());
            var apart = Measured.Exact((double)Math.Round((decimal)Math.Abs(number.Value - edge), 4), number.Unit);
            return $"{t.Test.Words}: {Display.Of(number)}, {Display.Of(apart)} {(number.Value > edge ? "over" : "under")} the test of {Display.Of(Measured.Exact(edge, number.Unit))}";
        }));

    private static string BandWords(Answers answers, FactRules rules) => string.Join("; ", new[]
    {
        answers["foxingLikeBand.encirclementPct"] is Extent { Measured: { } round }
            ? string.Create(CultureInfo.InvariantCulture, $"{Display.Of(round)} of the perimeter (under {rules.Band.NoneBelowPct:0} none, over {rules.Band.BandAbovePct:0} a band, between undecided)")
            : "",
        answers["foxingLikeBand.overlapInch"] is Extent { Measured: { } overlap }
            ? $"overlap {Display.Of(overlap)}, {string.Join(", ", rules.Band.Of(answers, rules.Wearing).Select(r => string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(overlap.Value - r.LeastInch):0.####} in {(overlap.Value < r.LeastInch ? "under" : "over")} the least of {r.LeastInch} in for {r.Sizes}")))}"
            : "",
    }.Where(w => w.Length > 0));

    /// <summary>What the lines pay, least first; one amount where they pay the same.</summary>
    private static ImmutableArray<double> Duties(ImmutableArray<ScheduleLine> lines, Measured value, LineSearch search) =>
        [.. lines.Select(l => BranchDuty.Of(l, value, search.Schedule.Currency).Value).DistinctBy(Charges.Cents).Order()];

    /// <param name="perPair">Least first.</param>
    private static string Difference(ImmutableArray<double> perPair, double? volume, string currency)
    {
        string Span(Func<double, string> shown) => perPair.Length == 1 ? shown(perPair[0]) : $"{shown(perPair[0])} to {shown(perPair[^1])}";
        var pair = $"{Span(d => Charges.Cents(d).ToString("+0.00;-0.00;0.00", CultureInfo.InvariantCulture))} {currency} a pair";
        return volume is { } pairs ? $"{pair}; {Span(d => Charges.Cents(d * pairs).ToString("+#,0;-#,0;0", CultureInfo.InvariantCulture))} {currency} a year" : pair;
    }
}
