using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>From the facts of a shoe to the lines of chapter 64 that it can fall in, what each pays, and which facts decide. A worksheet, not advice.</summary>
/// <remarks>Basis: the schedule as data in <c>data/tariff/</c>, its notes as rules in <c>data/tariff/facts.json</c>.</remarks>
public sealed class DutyExamination : Examination<DutyEvidence>
{
    public override string Name => "duty";

    public override string Title => "Duty";

    public override int Order => 500;

    public override bool LooksAtSubject => false;

    public override string? AnswerTable => DutyTables.LinesId;

    /// <summary>What a duty hangs on while its line is open.</summary>
    public override string? WordsOfCause(string about) =>
        about.Split(':') is ["branches" or "undecided", { Length: > 0 } entry, ..] ? $"duty line that is open: {CauseWords.About(entry)}" : null;

    public override Outcome Examine(DutyEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var source = $"{Name}/{surroundings.Entry}";
        var answer = DutyAnswer.Of(evidence, surroundings.Catalogue, (schedule, faults) => CustomsValue.Of(evidence, schedule, source, faults));
        var (schedule, search, rules, answers, found, missing, chances, value) = answer;
        var cautions = new List<string>(DutyWords.Cautions);
        if (evidence.Schedule is not null && string.Join(", ", ScheduleFaults.Unreachable(search)) is { Length: > 0 } never)
        {
            cautions.Add($"Lines of this edition that no shoe can reach, as earlier ones take all that fits them: {never}. Look at their conditions and their order.");
        }

        if (answer.LeftOut.Length > 0)
        {
            cautions.Add(answer.LeftOut);
        }

        var charges = OnTop(evidence, surroundings, value, schedule.Currency, cautions);
        return new Outcome
        {
            Figures = [.. Figures(found.Lines, value, schedule.Currency, answers, chances, source), .. charges.Select(c => new Figure(c.Id, c.Name, c.PerPair)), .. evidence.Sampling is { } leads ? SamplingPlan.Of(leads).Figures(source) : []],
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
            Assumptions = [.. found.PlainReadings, .. DutyWords.Assumptions(evidence, value, answers)],
            Cautions = [.. DutyWords.Of(answers, found.Lines, evidence, rules), .. cautions],
            Basis = [new Basis(BasisKind.Law, schedule.Title, schedule.Edition), .. found.Steps.Select(s => s.Law).Distinct().Select(l => new Basis(BasisKind.Law, l))],
        };
    }

    protected override IEnumerable<Fault> BeyondShape(DutyEvidence evidence, Surroundings surroundings, ImmutableArray<Fault> shape)
    {
        try
        {
            DutyAnswer.Check(evidence, surroundings.Catalogue, (schedule, faults) => CustomsValue.Of(evidence, schedule, "", faults));
            return [];
        }
        catch (FaultsException e)
        {
            return e.Faults;
        }
    }

    private static IEnumerable<Figure> Figures(ImmutableArray<ScheduleLine> lines, Measured? value, string currency, Answers answers, ImmutableDictionary<string, double>? chances, string source)
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
            var duties = lines.Select(l => BranchDuty.Of(l, value, currency)).OrderBy(d => d.Value).ToList();
            yield return new Figure("duty.least", "Duty per pair, least of the branches", duties[0]);
            yield return new Figure("duty.most", "Duty per pair, most of the branches", duties[^1]);
            if (chances is not null)
            {
                yield return new Figure("duty", "Duty per pair, mean over the branches by their probability", BranchDuty.Of(lines, chances, value, currency, source));
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

    private static ImmutableArray<Charge> OnTop(DutyEvidence evidence, Surroundings surroundings, Measured? value, string currency, List<string> cautions)
    {
        var charges = ImmutableArray.CreateBuilder<Charge>();
        if (value is not null && evidence is { Market: Market.Us, Entry: { } entry })
        {
            charges.AddRange(Charges.Fees(surroundings.Catalogue.Read<UsFees>(UsFees.File), entry, value, cautions));
        }

        cautions.Add(evidence.ExtraDuties.IsEmpty
            ? "No extra duty by origin is entered (such as those of chapter 99): they come on top, and they change often. Enter those in force on the day of entry."
            : "Extra duties by origin are as entered by the user; they change often: look them up for the day of entry.");
        var ids = ExtraIds.Of(evidence.ExtraDuties);
        foreach (var extra in Charges.InForce(evidence.ExtraDuties, evidence.Origin, evidence.Entry?.Date, cautions))
        {
            if (value is not null)
            {
                charges.Add(new Charge($"extra.{ids[extra]}", extra.Name, Measured.Linear(currency, (value, extra.AdValoremPct / 100), (Measured.Exact(extra.SpecificPerPair, currency), 1)), string.Create(CultureInfo.InvariantCulture, $"{extra.AdValoremPct} % for goods of {extra.Origin} from {extra.From:yyyy-MM-dd}; {extra.Source ?? "source not stated"}")));
            }
        }

        return charges.ToImmutable();
    }
}

/// <summary>What comes on top of the duty, per pair in the currency of the market.</summary>
internal sealed record Charge(string Id, string Name, Measured PerPair, string Words);
