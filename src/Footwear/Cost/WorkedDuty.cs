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
    private readonly List<Fault> _faults;

    /// <param name="sheet">Has a duty worksheet.</param>
    public WorkedDuty(CostEvidence sheet, Catalogue catalogue, string entry, Currencies currencies, CostInputs inputs, List<Fault> faults)
    {
        (_sheet, _catalogue, _entry, _inputs, _faults) = (sheet, catalogue, entry, inputs, faults);
        var worksheet = sheet.DutySheet!.Worksheet;
        _source = sheet.DutySheet.EvidenceOf ?? $"cost/{entry}";
        _schedule = worksheet.Schedule ?? catalogue.Read<Schedule>(Schedule.File(worksheet.Market));
        _rate = currencies.Of(Measured.Exact(1, ""), _schedule.Currency, "", "dutySheet", faults);
        var own = new List<Fault>();
        _stated = CustomsValue.Of(worksheet, _schedule, _source, own) ?? (worksheet.Market == Market.Us ? worksheet.Facts.ValueUsdPerPair?.Measured : null);
        Tell(own, "dutySheet.");
    }

    /// <summary>The formula with its duty; null where the facts have faults, which are told.</summary>
    /// <param name="sheet">Formula of the sheet that a change is tried against; null for the sheet itself.</param>
    /// <param name="where">Place of the facts, such as <c>changes[2].</c></param>
    public WorkedSheet? Of(CostModel bare, CostModel? sheet, DutyEvidence worksheet, string where)
    {
        var valued = bare with
        {
            DutyOn = worksheet.Market == Market.Us ? ValueBasis.Fob : ValueBasis.Cif,
            Customs = _stated is { } stated ? new StatedCustoms(new Term(1, [new(FactorKind.Times, _inputs.Add("customs value", stated)), .. _rate]), sheet) : null,
        };
        var value = Rounded(new CostFigures(_sheet.Currency, _entry, _sheet.Seed, _inputs).Number(_schedule.Currency, x => valued.CustomsOf(x) / new Term(1, _rate).Of(x)));
        var facts = sheet is null ? worksheet.Facts : worksheet.Facts with { ValueUsdPerPair = null, ValueBracketUsd = null };
        try
        {
            var answer = DutyAnswer.Of(worksheet with { Facts = facts }, _catalogue, (_, _) => value);
            var paid = PaidDuty.Of(answer, worksheet, worksheet.Entry?.Date ?? _sheet.UsFees?.EnteredOn, _source);
            return new WorkedSheet(
                With(valued, paid.Fixed, paid.Pct, paid.IsDecided ? "specific duty" : "duty line that is open"),
                paid,
                [.. paid.Branches.Select(b => (b, With(valued, b.Fixed, b.Pct, $"specific duty of {b.Line.Code}")))]);
        }
        catch (FaultsException e)
        {
            Tell(e.Faults, where);
            return null;
        }
    }

    /// <summary>Tells what is wrong with the facts, for a sheet that has other faults already.</summary>
    public static void Doubt(DutyEvidence worksheet, Catalogue catalogue, string where, List<Fault> faults)
    {
        try
        {
            DutyAnswer.Of(worksheet, catalogue, (schedule, told) => CustomsValue.Of(worksheet, schedule, "", told));
        }
        catch (FaultsException e)
        {
            // What is wrong in the facts of the sheet already is not told again of a change.
            faults.AddRange(Placed(e.Faults.Where(f => faults.TrueForAll(k => k.Where != "dutySheet." + f.Where)), where).ToList());
        }
    }

    private CostModel With(CostModel valued, Measured perPair, double pct, string label) => valued with
    {
        Duty = perPair is { IsExact: true, Value: 0 } ? [] : [new Term(1, [new(FactorKind.Times, _inputs.Add(label, perPair)), .. _rate])],
        DutyShare = new Margin(_inputs.Add("duty rate", Measured.Exact(pct, "%")), MarginBasis.Cost),
    };

    private void Tell(IEnumerable<Fault> faults, string where) =>
        _faults.AddRange(Placed(faults, where));

    private static IEnumerable<Fault> Placed(IEnumerable<Fault> faults, string where) =>
        faults.Select(f => f.Where.StartsWith("data/", StringComparison.Ordinal) ? f : f with { Where = where + f.Where });

    private static Measured Rounded(Measured value) => Measured.Of(Math.Round(value.Value, ValueDigits), value.Unit, value.Budget);
}
