using System.Collections.Immutable;
using Pairbench.Footwear.Duty;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>Works the duty of a sheet and of its changes out from the facts of its duty worksheet.</summary>
/// <remarks>
/// A customs value that the worksheet states is that of the sheet as it is; a change moves it by what it moves the FOB (or CIF) value. Where none is stated it is that
/// value itself. So a change that lifts a pair over a value bracket finds its other line.
/// </remarks>
internal sealed class WorkedDuty
{
    /// <summary>Digits of the value that brackets are held against: beyond them lies the arithmetic.</summary>
    private const int ValueDigits = 9;

    private readonly CostEvidence _sheet;
    private readonly Catalogue _catalogue;
    private readonly string _entry;
    private readonly string _source;
    private readonly CostInputs _inputs;
    private readonly Schedule _schedule;
    private readonly ImmutableArray<Factor> _rate;
    private readonly Measured? _stated;

    /// <param name="sheet">Has a duty worksheet.</param>
    /// <param name="faults">Told what is wrong with its facts, its value and its currency.</param>
    public WorkedDuty(CostEvidence sheet, Catalogue catalogue, string entry, Currencies currencies, CostInputs inputs, List<Fault> faults)
    {
        (_sheet, _catalogue, _entry, _inputs) = (sheet, catalogue, entry, inputs);
        var worksheet = sheet.DutySheet!.Worksheet;
        _source = sheet.DutySheet.EvidenceOf ?? $"cost/{entry}";
        _schedule = worksheet.Schedule ?? catalogue.Read<Schedule>(Schedule.File(worksheet.Market));
        _rate = currencies.Of(Measured.Exact(1, ""), _schedule.Currency, "", "dutySheet", faults);
        var own = new List<Fault>();
        var value = CustomsValue.Of(worksheet, _schedule, _source, own);
        faults.AddRange(Placed(own, "dutySheet."));
        Check(worksheet, value, "dutySheet.", faults);
        _stated = value ?? (worksheet.Market == Market.Us ? worksheet.Facts.ValueUsdPerPair?.Measured : null);
    }

    /// <summary>Tells what is wrong with the facts of a change; not again what is wrong with those of the sheet already.</summary>
    /// <param name="where">Place of the facts, such as <c>changes[2].</c></param>
    public void Check(DutyEvidence worksheet, string where, List<Fault> faults) => Check(WithoutValue(worksheet), null, where, faults);

    /// <summary>The formula with its duty.</summary>
    /// <param name="sheet">Formula of the sheet that a change is tried against; null for the sheet itself.</param>
    /// <param name="where">Place of the facts, such as <c>changes[2].</c></param>
    /// <exception cref="FaultsException">The facts and the value that comes out do not fit each other.</exception>
    public WorkedSheet Of(CostModel bare, CostModel? sheet, DutyEvidence worksheet, string where)
    {
        var valued = bare with
        {
            DutyOn = worksheet.Market == Market.Us ? ValueBasis.Fob : ValueBasis.Cif,
            Customs = _stated is { } stated ? new StatedCustoms(new Term(1, [new(FactorKind.Times, _inputs.Add("customs value", stated)), .. _rate]), sheet) : null,
        };
        double Customs(ReadOnlySpan<double> x) => valued.CustomsOf(x) / new Term(1, _rate).Of(x);
        var value = Rounded(new CostFigures(_sheet.Currency, _entry, _sheet.Seed, _inputs).Number(_schedule.Currency, Customs));
        try
        {
            var answer = DutyAnswer.Of(sheet is null ? worksheet : WithoutValue(worksheet), _catalogue, (_, _) => value);
            var paid = PaidDuty.Of(answer, worksheet, worksheet.Entry?.Date ?? _sheet.UsFees?.EnteredOn, _source);
            return new WorkedSheet(
                With(valued, paid.Fixed, paid.Pct, paid.IsDecided ? "specific duty" : "duty line that is open"),
                paid,
                [.. paid.Branches.Select(b => new WorkedBranch(
                    b,
                    With(valued, b.Fixed, b.Pct, $"specific duty of {b.Line.Code}"),
                    b.IsCut ? new CutBranch(b.Line, With(valued, Measured.Exact(b.Laden.SpecificPerPair, _schedule.Currency), b.Laden.AdValoremPct, $"specific duty of {b.Line.Code}"), Customs) : null))]);
        }
        catch (FaultsException e)
        {
            throw new FaultsException(Placed(e.Faults, where));
        }
    }

    private void Check(DutyEvidence worksheet, Measured? value, string where, List<Fault> faults)
    {
        try
        {
            DutyAnswer.Check(worksheet, _catalogue, (_, _) => value);
        }
        catch (FaultsException e)
        {
            faults.AddRange(Placed(e.Faults.Where(f => faults.TrueForAll(k => k.Where != "dutySheet." + f.Where)), where).ToList());
        }
    }

    /// <summary>The value of a changed sheet follows from its prices.</summary>
    private static DutyEvidence WithoutValue(DutyEvidence worksheet) => worksheet with { Facts = worksheet.Facts with { ValueUsdPerPair = null, ValueBracketUsd = null } };

    private CostModel With(CostModel valued, Measured perPair, double pct, string label) => valued with
    {
        Duty = perPair is { IsExact: true, Value: 0 } ? [] : [new Term(1, [new(FactorKind.Times, _inputs.Add(label, perPair)), .. _rate])],
        DutyShare = new Margin(_inputs.Add("duty rate", Measured.Exact(pct, "%")), MarginBasis.Cost),
    };

    private static IEnumerable<Fault> Placed(IEnumerable<Fault> faults, string where) =>
        faults.Select(f => f.Where.StartsWith("data/", StringComparison.Ordinal) ? f : f with { Where = where + f.Where });

    private static Measured Rounded(Measured value) => Measured.Of(Math.Round(value.Value, ValueDigits), value.Unit, value.Budget);
}
