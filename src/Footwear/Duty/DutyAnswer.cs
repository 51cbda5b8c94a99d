using System.Collections.Immutable;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>What the law says of one shoe: the lines that its facts leave, what would decide, and how probable each line is where only measured numbers leave it open.</summary>
/// <param name="Value">Customs value per pair in the currency of the schedule; null where none is known as a number.</param>
internal sealed record DutyAnswer(
    Schedule Schedule, LineSearch Search, FactRules Rules, Answers Answers, Classification Found, ImmutableArray<MissingFact> Missing, ImmutableDictionary<string, double>? Chances, Measured? Value)
{
    /// <summary>Lines that are too improbable to remain, in words; empty where there is none.</summary>
    public string LeftOut { get; init; } = "";

    /// <param name="valueOf">The customs value; tells its faults.</param>
    /// <exception cref="FaultsException">The facts disagree, or no line fits them.</exception>
    public static DutyAnswer Of(DutyEvidence evidence, Catalogue catalogue, Func<Schedule, List<Fault>, Measured?> valueOf)
    {
        var (schedule, search, rules, answers, found, value) = Sought(evidence, catalogue, valueOf);
        var (chances, leftOut) = LineChances.Told(LineChances.Of(answers, search, rules, evidence.Unknown), found.Lines);
        return new DutyAnswer(schedule, search, rules, answers, found, Classification.Missing(answers, search, rules, evidence.Unknown), chances, value) { LeftOut = leftOut };
    }

    /// <summary>Whether the facts can be answered at all, without what costs time.</summary>
    /// <inheritdoc cref="Of"/>
    public static void Check(DutyEvidence evidence, Catalogue catalogue, Func<Schedule, List<Fault>, Measured?> valueOf) => Sought(evidence, catalogue, valueOf);

    private static (Schedule Schedule, LineSearch Search, FactRules Rules, Answers Answers, Classification Found, Measured? Value) Sought(DutyEvidence evidence, Catalogue catalogue, Func<Schedule, List<Fault>, Measured?> valueOf)
    {
        var faults = new List<Fault>();
        var rules = catalogue.Read<FactRules>(FactRules.File);
        var schedule = evidence.Schedule ?? catalogue.Read<Schedule>(Schedule.File(evidence.Market));
        if (schedule.Market != evidence.Market)
        {
            faults.Add(new Fault("schedule.market", "is another than the market of the evidence", "give a schedule of that market"));
        }

        faults.AddRange(ScheduleFaults.Of(schedule, rules));
        faults.AddRange(evidence.ExtraDuties.Select((e, i) => (e, i)).Where(e => e.e.Until < e.e.From).Select(e => new Fault($"extraDuties[{e.i}].until", $"is {e.e.Until:yyyy-MM-dd}, before from", "give the last day that it is in force, or leave it out")));
        faults.AddRange(ExtraIds.Faults(evidence.ExtraDuties));
        var value = InCurrency(valueOf(schedule, faults), schedule);
        var answers = Answers.Of(evidence.Facts, evidence.Market == Market.Us ? value : null, rules, faults);
        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        value ??= evidence.Market == Market.Us ? InCurrency((answers["valueUsdPerPair"] as Extent)?.Measured, schedule) : null;
        var search = Classification.SearchOf(schedule, rules);
        var found = Classification.Of(answers, search, rules, evidence.Unknown);
        return found.Lines.IsEmpty
            ? throw new FaultsException(new Fault("facts", "no line of the schedule fits them together", "look for facts that exclude each other, such as a knee boot below the ankle"))
            : (schedule, search, rules, answers, found, value);
    }

    private static Measured? InCurrency(Measured? value, Schedule schedule) => value is null ? null : Measured.Linear(schedule.Currency, (value, 1));
}
