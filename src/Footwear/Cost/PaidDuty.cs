using System.Collections.Immutable;
using Pairbench.Footwear.Duty;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>The duty of a pair as its facts give it, in a form that follows the customs value: an amount and a share.</summary>
/// <param name="Fixed">In the currency of the schedule; carries what is open where the line is.</param>
/// <param name="Pct">Of the customs value, extra duties by origin included.</param>
/// <param name="Extras">Extra duties by origin that are in it.</param>
/// <param name="Notes">What was left out or is open, in words.</param>
internal sealed record PaidDuty(DutyAnswer Answer, Measured Fixed, double Pct, ImmutableArray<ExtraDuty> Extras, ImmutableArray<string> Notes)
{
    private const int Steps = 200;

    /// <param name="source">Entry that the facts are of: what hangs on the same open facts is correlated.</param>
    /// <param name="day">Day of entry.</param>
    public static PaidDuty Of(DutyAnswer answer, DutyEvidence worksheet, DateOnly? day, string source)
    {
        var notes = new List<string>();
        var extras = Charges.InForce(worksheet.ExtraDuties, worksheet.Origin, day, notes);
        var (open, pct) = Line(answer, source, notes);
        if (answer.Found.Lines.Any(l => !l.Status.Contains("seen", StringComparison.Ordinal)))
        {
            notes.Add("A rate of these lines was not read in a source.");
        }

        return new PaidDuty(
            answer,
            Shifted(open, extras.Sum(e => e.SpecificPerPair)),
            pct + extras.Sum(e => e.AdValoremPct),
            extras,
            [.. notes]);
    }

    /// <summary>What each line that remains would pay; none where all pay the same.</summary>
    public ImmutableArray<DutyBranch> Branches => IsDecided ? [] : [.. Answer.Found.Lines.Select(Branch)];

    /// <summary>The lines with their rates.</summary>
    public string Lines => DutyTables.Few(Answer.Found.Lines);

    public bool IsDecided => HasOneRate(Answer.Found.Lines);

    private DutyBranch Branch(ScheduleLine line)
    {
        var (currency, value) = (Answer.Schedule.Currency, Answer.Value!);
        double? chance = Answer.Chances is { } chances ? chances.GetValueOrDefault(line.Code) : null;
        var laden = line with { SpecificPerPair = line.SpecificPerPair + Extras.Sum(e => e.SpecificPerPair), AdValoremPct = line.AdValoremPct + Extras.Sum(e => e.AdValoremPct) };
        return BranchDuty.Cuts(line, value)
            ? new DutyBranch(line, chance, BranchDuty.Of(laden, value, currency), 0, laden) { IsCut = true }
            : new DutyBranch(line, chance, Measured.Exact(laden.SpecificPerPair, currency), laden.AdValoremPct, laden);
    }

    private static (Measured Fixed, double Pct) Line(DutyAnswer answer, string source, List<string> notes)
    {
        var (lines, currency) = (answer.Found.Lines, answer.Schedule.Currency);
        if (HasOneRate(lines))
        {
            return (Measured.Exact(lines[0].SpecificPerPair, currency), lines[0].AdValoremPct);
        }

        // Where a bracket cuts the value, what a line pays hangs on which part of it: the duty is then an amount, drawn as a whole.
        var isCut = lines.Any(l => BranchDuty.Cuts(l, answer.Value!));
        var value = isCut ? answer.Value! : Measured.Exact(answer.Value!.Value, currency);
        if (answer.LeftOut.Length > 0)
        {
            notes.Add(answer.LeftOut);
        }

        if (answer.Chances is { } chances)
        {
            var pct = isCut ? 0 : lines.Sum(l => chances.GetValueOrDefault(l.Code) * l.AdValoremPct);
            return (Shifted(BranchDuty.Of(lines, chances, value, currency, source), -pct * value.Value / 100), pct);
        }

        var duties = lines.Select(l => (Line: l, Duty: BranchDuty.Of(l, value, currency).Value)).OrderBy(d => d.Duty).ToArray();
        var (least, most) = (duties[0], duties[^1]);
        var middle = isCut ? 0 : (least.Line.AdValoremPct + most.Line.AdValoremPct) / 2;
        notes.Add($"{lines.Length} lines remain: the duty is taken as anywhere from {Charges.Cents(least.Duty):0.00} to {Charges.Cents(most.Duty):0.00} {currency}.{(answer.Missing.IsEmpty ? "" : $" Get first: {answer.Missing[0].Words}")}");
        var half = (most.Duty - least.Duty) / 2;
        var open = Measured.Of(least.Duty + half, currency, $"duty:undecided:{source}:{string.Join("+", lines.Select(l => l.Code))}", TypeB.Uniform(half))
            .WithSamples(Enumerable.Range(0, Steps + 1).Select(i => least.Duty + (2 * half * i / Steps)));
        return (Shifted(open, -middle * value.Value / 100), middle);
    }

    private static bool HasOneRate(ImmutableArray<ScheduleLine> lines) => lines.All(l => l.AdValoremPct == lines[0].AdValoremPct && l.SpecificPerPair == lines[0].SpecificPerPair);

    /// <summary>Moved by an amount known exactly, draws included.</summary>
    private static Measured Shifted(Measured money, double by) =>
        Measured.Of(money.Value + by, money.Unit, money.Budget) is var moved && money.Samples.IsEmpty ? moved : moved.WithSamples(money.Samples.Select(s => s + by));
}
