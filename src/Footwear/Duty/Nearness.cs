using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>Which single facts, changed alone, would change the line, how far away that is, and what it is worth.</summary>
internal static class Nearness
{
    private const double Cent = 0.01;

    public static Table? Table(Answers answers, Measured? value, DutyEvidence evidence, LineSearch search, FactRules rules, Classification found)
    {
        if (found.Lines is not [var now])
        {
            return null;
        }

        var rows = new List<ImmutableArray<Cell>>();
        void Try(string fact, string distance, Answers changed, Measured? changedValue)
        {
            var then = Classification.Of(changed, search, rules, evidence.Unknown).Lines;
            if (then is [var one] && one.Code == now.Code)
            {
                return;
            }

            var money = value is null || changedValue is null || then.Length != 1
                ? ""
                : Difference(Charges.Duty(then[0], changedValue, search.Schedule.Currency).Value - Charges.Duty(now, value, search.Schedule.Currency).Value, evidence.VolumePerYear, search.Schedule.Currency);
            rows.Add([fact, distance, then.Length > 4 ? $"{then.Length} lines" : string.Join(", ", then.Select(l => $"{l.Code} ({l.RateText})")), money]);
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
            Try(place, Band(place, answers, (bool)answer), answers.With(place, !(bool)answer), value);
        }

        return rows.Count == 0 ? null : new Table(
            "near",
            "Single facts that would change the line",
            [new("fact", "fact"), new("distance", "how far"), new("then", "then"), new("difference", evidence.VolumePerYear is null ? "difference per pair" : "difference per pair and per year")],
            [.. rows]);
    }

    private static string Band(string place, Answers answers, bool now) => place == "foxingLikeBand.present" && answers["foxingLikeBand.encirclementPct"] is Extent { Measured: { } round }
        ? string.Create(CultureInfo.InvariantCulture, $"{round.Value:0.#} % of the perimeter; 40 to 60 % is undecided")
        : now ? "if it were not so" : "if it were so";

    private static string Difference(double perPair, double? volume, string currency)
    {
        var pair = string.Create(CultureInfo.InvariantCulture, $"{Charges.Cents(perPair):+0.00;-0.00;0.00} {currency} a pair");
        return volume is { } pairs ? pair + string.Create(CultureInfo.InvariantCulture, $"; {Charges.Cents(perPair * pairs):+#,0;-#,0;0} {currency} a year") : pair;
    }
}
