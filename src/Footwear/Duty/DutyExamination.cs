using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>From the facts of a shoe to the lines of chapter 64 that it can fall in, what each pays, and which facts decide. A worksheet, not advice.</summary>
/// <remarks>Basis: the schedule as data in <c>data/tariff/</c>, its notes as rules in <c>data/tariff/facts.json</c>.</remarks>
public sealed class DutyExamination : Examination<DutyEvidence>
{
    public override string Name => "duty";

    public override string Title => "Duty";

    public override int Order => 500;

    public override Outcome Examine(DutyEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var faults = new List<Fault>();
        var rules = surroundings.Catalogue.Read<FactRules>(FactRules.File);
        var schedule = evidence.Schedule ?? surroundings.Catalogue.Read<Schedule>(Schedule.File(evidence.Market));
        if (schedule.Market != evidence.Market)
        {
            faults.Add(new Fault("schedule.market", "is another than the market of the evidence", "give a schedule of that market"));
        }

        faults.AddRange(Unknown(schedule, rules));
        var value = ValueOf(evidence, schedule, faults);
        value = value is null ? null : Measured.Linear(schedule.Currency, (value, 1));
        var answers = Answers.Of(evidence.Facts, evidence.Market == Market.Us ? value : null, rules, faults);
        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        value ??= evidence.Market == Market.Us ? (answers["valueUsdPerPair"] as Extent)?.Measured : null;
        value = value is null ? null : Measured.Linear(schedule.Currency, (value, 1));
        var search = Classification.SearchOf(schedule, rules);
        var found = Classification.Of(answers, search, rules, evidence.Unknown);
        if (found.Lines.IsEmpty)
        {
            throw new FaultsException(new Fault("facts", "no line of the schedule fits them together", "look for facts that exclude each other, such as a knee boot below the ankle"));
        }

        var missing = Classification.Missing(answers, search, rules, evidence.Unknown);
        var chances = LineChances.Of(answers, search, rules, evidence.Unknown);
        var cautions = new List<string>(DutyWords.Cautions);
        var assumptions = new List<string>(found.PlainReadings);
        var charges = OnTop(evidence, surroundings, value, cautions);
        return new Outcome
        {
            Figures = [.. Figures(found.Lines, value, schedule.Currency, answers, chances), .. charges.Select(c => new Figure(c.Id, c.Name, Measured.Exact(c.PerPair, schedule.Currency))), .. evidence.Sampling is { } leads ? SamplingPlan.Of(leads).Figures() : []],
            Tables = [
                DutyTables.Says(DutyWords.Sentence(found.Lines, missing), DutyWords.Contact(answers)),
                DutyTables.Lines(found, value, schedule, chances),
                DutyTables.Missing(missing),
                DutyTables.Way(found, missing, rules),
                .. missing.IsEmpty ? ImmutableArray<Table>.Empty : [DutyTables.Branches(missing, value, schedule)],
                .. Nearness.Table(answers, value, evidence, search, rules, found) is { } near ? [near] : ImmutableArray<Table>.Empty,
                .. ThresholdTable.Of(answers, search, rules) is { Rows.IsEmpty: false } thresholds ? [thresholds] : ImmutableArray<Table>.Empty,
                .. charges.IsEmpty ? ImmutableArray<Table>.Empty : [DutyTables.OnTop(charges, schedule.Currency)],
                .. evidence.Sampling is { } sampling ? [SamplingPlan.Of(sampling).Table()] : ImmutableArray<Table>.Empty],
            Plates = [WayPlate.Of(found, missing, value, schedule, chances, rules)],
            Findings = [],
            Assumptions = [.. assumptions, .. DutyWords.Assumptions(evidence, value)],
            Cautions = [.. DutyWords.Of(answers, found.Lines, evidence, rules), .. cautions],
            Basis = [new Basis(BasisKind.Law, schedule.Title, schedule.Edition), .. found.Steps.Select(s => s.Law).Distinct().Select(l => new Basis(BasisKind.Law, l))],
        };
    }

    private static IEnumerable<Fault> Unknown(Schedule schedule, FactRules rules) => schedule.Lines
        .SelectMany((l, i) => l.All.Concat(l.None.SelectMany(n => n)).Select(a => (a.Fact, i)))
        .Where(a => rules.Facts.All(r => r.Fact != a.Fact))
        .Select(a => new Fault($"schedule.lines[{a.i}]", $"asks for '{a.Fact}', which no rule gives", $"use one of the facts of data/{FactRules.File}"))
        .Distinct();

    private static Measured? ValueOf(DutyEvidence evidence, Schedule schedule, List<Fault> faults)
    {
        if (evidence.CustomsValue is not { } given)
        {
            if (evidence.Assists is > 0)
            {
                faults.Add(new Fault("assists", "stand beside no customsValue, and would be lost", "give the price as customsValue.value, or the value with its assists as facts.valueUsdPerPair alone"));
            }

            return null;
        }

        if (given is { Value: { } first, Amount: { } second } && first.Value != second.Value)
        {
            faults.Add(new Fault("customsValue.amount", "is another than customsValue.value", "give one of them"));
        }

        var value = given.Value ?? given.Amount;
        if (value is null)
        {
            faults.Add(new Fault("customsValue.value", "is missing", "give the customs value of a pair"));
            return null;
        }

        value = given.StandardUncertainty is { } u and > 0 ? Measured.Of(value.Value, value.Unit, "customs-value", u) : value;
        if ((given.Currency ?? given.Unit) is { } currency && currency != schedule.Currency)
        {
            faults.Add(new Fault("customsValue.currency", $"is {currency}", $"give the value in {schedule.Currency}, at the rate that customs uses on the day of entry"));
        }

        var wanted = evidence.Market == Market.Us ? CustomsBasis.Fob : CustomsBasis.Cif;
        if (given.Basis is { } basis && basis != wanted)
        {
            if (given.FreightAndInsurance is not { } way)
            {
                faults.Add(new Fault("customsValue.freightAndInsurance", "is missing", $"give freight and insurance to the border per pair: the market values {(wanted == CustomsBasis.Fob ? "FOB, the amount is CIF" : "CIF, the amount is FOB")}"));
            }
            else
            {
                value = Measured.Linear(value.Unit, (value, 1), (way, wanted == CustomsBasis.Cif ? 1 : -1));
            }
        }

        return value + Measured.Exact(evidence.Assists ?? 0, value.Unit);
    }

    private static IEnumerable<Figure> Figures(ImmutableArray<ScheduleLine> lines, Measured? value, string currency, Answers answers, ImmutableDictionary<string, double>? chances)
    {
        var first = lines[0];
        if (lines.All(l => l.AdValoremPct == first.AdValoremPct && l.SpecificPerPair == first.SpecificPerPair))
        {
            yield return new Figure("rate.ad-valorem", "Rate on the customs value", Measured.Exact(first.AdValoremPct, "%"));
            yield return new Figure("rate.specific", "Rate per pair", Measured.Exact(first.SpecificPerPair, currency));
            if (value is not null)
            {
                var duty = Charges.Duty(first, value, currency);
                if (value.Value > 0)
                {
                    yield return new Figure("rate.equivalent", "Duty in percent of the customs value", 100 * Measured.Ratio(duty, value, "%"));
                }

                yield return new Figure("duty", "Duty per pair", duty);
            }
        }
        else if (value is not null)
        {
            var duties = lines.Select(l => Charges.Duty(l, value, currency)).OrderBy(d => d.Value).ToList();
            yield return new Figure("duty.least", "Duty per pair, least of the branches", duties[0]);
            yield return new Figure("duty.most", "Duty per pair, most of the branches", duties[^1]);
            if (chances is not null)
            {
                yield return new Figure("duty", "Duty per pair, mean over the branches by their probability", BranchDuty.Of(lines, chances, value, currency));
            }
        }

        if (Greatest.Lead(answers.Contact) is { } lead)
        {
            yield return new Figure("lead", $"Lead of {lead.First} over {lead.Second} in ground contact", lead.Lead);
        }

        if (Greatest.Chances(answers.Contact)?.GetValueOrDefault("textile") is { } textile)
        {
            yield return new Figure("textile-leads", "Probability that textile has the greatest contact", Measured.Exact(100 * textile, "%"));
        }
    }

    private static ImmutableArray<Charge> OnTop(DutyEvidence evidence, Surroundings surroundings, Measured? value, List<string> cautions)
    {
        var charges = ImmutableArray.CreateBuilder<Charge>();
        if (value is not null && evidence is { Market: Market.Us, Entry: { } entry })
        {
            charges.AddRange(Charges.Fees(surroundings.Catalogue.Read<UsFees>(UsFees.File), entry, value.Value, cautions)
                .Select(f => new Charge("fee." + f.Name.Split(' ')[0], f.Name, f.PerPair, f.Words)));
        }

        cautions.Add(evidence.ExtraDuties.IsEmpty
            ? "No extra duty by origin is entered (such as those of chapter 99): they come on top, and they change often. Enter those in force on the day of entry."
            : "Extra duties by origin are as entered by the user; they change often: look them up for the day of entry.");
        foreach (var (extra, i) in evidence.ExtraDuties.Select((e, i) => (e, i)))
        {
            if (!string.Equals(extra.Origin, evidence.Origin, StringComparison.OrdinalIgnoreCase))
            {
                continue;
            }

            if (evidence.Entry is not { } dated || dated.Date < extra.From || dated.Date > extra.Until)
            {
                cautions.Add($"{extra.Name} is not counted: {(evidence.Entry is null ? "no date of entry is given" : "it is not in force on the day of entry")}.");
            }
            else if (value is not null)
            {
                charges.Add(new Charge($"extra.{i + 1}", extra.Name, (value.Value * extra.AdValoremPct / 100) + extra.SpecificPerPair, string.Create(CultureInfo.InvariantCulture, $"{extra.AdValoremPct} % for goods of {extra.Origin} from {extra.From:yyyy-MM-dd}; {extra.Source ?? "source not stated"}")));
            }
        }

        return charges.ToImmutable();
    }
}

/// <summary>What comes on top of the duty, per pair in the currency of the market.</summary>
public sealed record Charge(string Id, string Name, double PerPair, string Words);
