using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>What a cost sheet takes for granted, warns of and rests on.</summary>
internal static class CostWords
{
    public static IEnumerable<string> Assumptions(CostEvidence sheet, PaidDuty? paid)
    {
        yield return "Nothing is rounded on the way. FOB, landed, wholesale and retail are rounded once, half away from zero, to the smallest unit of the currency; in the tables of money parts are rounded so that they add up to them.";
        yield return $"Figures are in {sheet.Currency} per pair; amounts that name no currency are in {sheet.Currency}.";
        if (sheet.Lines.Any(l => l is { WastePct: not null, WasteOf: WasteBasis.Net }))
        {
            yield return "Waste is a share of the net need and comes on top of it (gross = net × (1 + waste)), save where a line says gross.";
        }

        if (sheet.OverheadPct is not null)
        {
            yield return sheet.OverheadOn == OverheadBasis.Labour ? "Overhead is a share of labour." : "Overhead is a share of labour and materials.";
        }

        if (sheet.FactoryMarginPct is not null)
        {
            yield return "FOB is materials, labour, overhead and moulds with the factory's margin, which is a share of " + Of(sheet.FactoryMarginOn, "that cost", "the FOB price");
        }

        if (sheet.InsurancePct is not null)
        {
            yield return "Insurance is a share of FOB and freight.";
        }

        if (sheet.DutyRate is { } rate)
        {
            yield return rate.On == ValueBasis.Fob
                ? "The share of duty is taken of the FOB value; assists, royalties and commissions that belong to the customs value must be in the sheet."
                : "The share of duty is taken of the CIF value: FOB, freight and insurance to the border.";
        }

        if (paid is { Answer: var answer } && sheet.DutySheet is { } worksheet)
        {
            var basis = worksheet.Worksheet.Market == Duty.Market.Us ? "FOB" : "CIF";
            var stated = worksheet.Worksheet.CustomsValue is not null || worksheet.Worksheet.Facts.ValueUsdPerPair?.Measured is not null;
            yield return $"The duty is worked out from {worksheet.EvidenceOf ?? "the duty worksheet of the sheet"}: {paid.Lines}, on {(stated ? $"its customs value of {Display.Of(answer.Value!)}, which a change moves by what it moves the {basis} value" : $"the {basis} value of the sheet")}; {Extras(paid)}.";
        }

        if (paid is { Answer.Found.PlainReadings: { IsEmpty: false } plain })
        {
            foreach (var reading in sheet.DutySheet?.EvidenceOf is { } entry ? [$"{plain.Length} facts that {entry} leaves unknown are read as the plain case; they are listed there."] : plain)
            {
                yield return reading;
            }
        }

        if (sheet.ImporterMarginPct is not null)
        {
            yield return "The importer's margin is a share of " + Of(sheet.ImporterMarginOn, "the landed cost", "the wholesale price");
        }

        if (sheet.RetailMarginPct is not null)
        {
            yield return "The retail margin is a share of " + Of(sheet.RetailMarginOn, "the wholesale price", "the retail price") + " Sales tax is not in it.";
        }

        if (sheet.Lines.Where(l => Mass.Of(l) is null).Select(l => l.Id).ToArray() is { Length: > 0 } unweighed)
        {
            yield return $"No mass is known of {string.Join(", ", unweighed)}; they are not in the mass of the pair.";
        }
    }

    public static ImmutableArray<string> Cautions(CostEvidence sheet, Currencies currencies, ImmutableArray<TriedChange> tried, PaidDuty? paid, string open)
    {
        var cautions = ImmutableArray.CreateBuilder<string>();
        cautions.AddRange(paid?.Notes ?? []);
        if (open.Length > 0)
        {
            cautions.Add(open);
        }

        if (sheet.Duty is not null || sheet.DutyRate is not null || sheet.DutySheet is not null || sheet.UsFees is not null)
        {
            cautions.Add("Duty and fees here are a worksheet, not advice: a binding ruling or a licensed customs broker decides. Extra duties by origin change often and are only in it if you put them in.");
        }
        else
        {
            cautions.Add("No duty is in this sheet.");
        }

        cautions.AddRange(Rates(sheet, currencies));
        if (sheet.Duty is not null && tried.Any(t => !t.Trial.Change.ChangesDuty && t.FobDifference.Value != 0))
        {
            cautions.Add("The duty is an amount and does not follow the FOB value when a change moves it; state it as a rate to have it follow.");
        }

        foreach (var change in tried.SelectMany(t => t.Trial.Change.Touches.Where(f => !Units.TryConvert(f.After, f.Before.Unit, out _)).Select(f => (t.Trial.Change, f))))
        {
            cautions.Add($"{change.Change.Name}: {change.f.Label} is in '{change.f.Before.Unit}' before and '{change.f.After.Unit}' after; no difference was taken.");
        }

        cautions.AddRange(tried.SelectMany(OvenWords.Cautions));
        if (sheet.Lines.All(l => l.Price.IsExact) && sheet.PriceLists.All(l => l.UncertaintyPct == 0))
        {
            cautions.Add("No price has an uncertainty: the intervals are narrower than what is known. Give each price a standardUncertainty, or a price list with its own.");
        }

        return cautions.ToImmutable();
    }

    public static ImmutableArray<Basis> Basis(CostEvidence sheet, PaidDuty? paid)
    {
        var basis = ImmutableArray.CreateBuilder<Basis>();
        basis.Add(new Basis(BasisKind.Standard, "JCGM 100", "2008"));
        basis.Add(new Basis(BasisKind.Standard, "JCGM 101", "2008"));
        basis.Add(new Basis(BasisKind.Standard, "ISO 80000-1, annex B (rounding)"));
        if (sheet.UsFees is not null)
        {
            basis.Add(new Basis(BasisKind.Law, "19 CFR 24.23 (merchandise processing fee)"));
            basis.Add(new Basis(BasisKind.Law, "19 CFR 24.24 (harbour maintenance fee)"));
        }

        if (sheet.DutyRate is { } rate)
        {
            basis.Add(rate.On == ValueBasis.Fob
                ? new Basis(BasisKind.Law, "19 U.S.C. 1401a (customs value without international freight and insurance; from memory)")
                : new Basis(BasisKind.Law, "Regulation (EU) 952/2013, articles 70 and 71(1)(e) (customs value with transport and insurance to the place of entry)"));
        }

        if (paid is { Answer: var answer })
        {
            basis.Add(new Basis(BasisKind.Law, answer.Schedule.Title, answer.Schedule.Edition));
        }

        return basis.ToImmutable();
    }

    private static string Extras(PaidDuty paid) => paid.Extras.IsEmpty
        ? "no extra duty by origin is in it"
        : $"extra duties by origin are in it: {string.Join(", ", paid.Extras.Select(e => e.Name))}";

    private static IEnumerable<string> Rates(CostEvidence sheet, Currencies currencies)
    {
        foreach (var rate in sheet.Rates.Where(r => currencies.Used.Contains(r.Currency)))
        {
            if (sheet.PricedOn is not { } day)
            {
                yield return $"The rate of {rate.Currency} is of {Display.Day(rate.On)}; the day of the sheet (pricedOn) is not stated, so that nobody can tell whether it is old.";
                continue;
            }

            var age = day.DayNumber - rate.On.DayNumber;
            if (age > sheet.RateDays)
            {
                yield return $"The rate of {rate.Currency} is of {Display.Day(rate.On)}, {age} days before the day of the sheet, {Display.Day(day)}: more than {sheet.RateDays}. Enter a newer one.";
            }
            else if (age < 0)
            {
                yield return $"The rate of {rate.Currency} is of {Display.Day(rate.On)}, after the day of the sheet, {Display.Day(day)}.";
            }
        }
    }

    private static string Of(MarginBasis basis, string cost, string price) => (basis == MarginBasis.Cost ? cost : price) + ".";

}
