using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>Makes the formula of a sheet; sheets that one builder makes share their inputs.</summary>
internal sealed class CostModelBuilder
{
    private readonly CostInputs _inputs;
    private readonly Currencies _currencies;
    private readonly ImmutableArray<FeeLine> _lawful;
    private readonly ImmutableDictionary<string, Measured> _lists;
    private readonly List<Fault> _faults;

    /// <param name="lawful">Fees by law, on top of those of the sheet.</param>
    /// <param name="faults">Told what is wrong, with places relative to the sheet.</param>
    public CostModelBuilder(CostEvidence sheet, CostInputs inputs, Currencies currencies, ImmutableArray<FeeLine> lawful, List<Fault> faults)
    {
        (_inputs, _currencies, _lawful, _faults) = (inputs, currencies, lawful, faults);
        faults.AddRange(Once.Faults(sheet.PriceLists.Select(l => l.Id), "priceLists", "give each price list an id of its own"));
        _lists = sheet.PriceLists.DistinctBy(l => l.Id).ToImmutableDictionary(
            l => l.Id,
            l => l.UncertaintyPct == 0 ? Measured.Exact(1, "") : Measured.Of(1, "", CauseOf(l), l.UncertaintyPct / 100),
            StringComparer.Ordinal);
    }

    /// <summary>A list of another day is another list: what it is off by is new.</summary>
    private static string CauseOf(PriceList list) => list.On is { } on ? FormattableString.Invariant($"price-list:{list.Id}:{on:yyyy-MM-dd}") : $"price-list:{list.Id}";

    private CostModelBuilder(CostModelBuilder of, List<Fault> faults) =>
        (_inputs, _currencies, _lawful, _lists, _faults) = (of._inputs, of._currencies, of._lawful, of._lists, faults);

    /// <summary>The formula of a sheet as the changes made it; its faults stand at the places that the user wrote.</summary>
    /// <param name="change">The change that made <paramref name="sheet"/> of <paramref name="before"/>, and its place in the list.</param>
    public CostModel Build(CostEvidence before, (CostChange Change, int Place) change, CostEvidence sheet)
    {
        var own = new List<Fault>();
        var model = new CostModelBuilder(this, own).Build(sheet, change.Change.Lines);
        var places = new ChangedPlaces(before, change.Change, change.Place, sheet);

        // What is wrong in the sheet itself is told there, once.
        var known = _faults.Select(f => f.Where).ToHashSet(StringComparer.Ordinal);
        _faults.AddRange(own.Where(f => !known.Contains(places.InSheet(f.Where))).Select(f => f with { Where = places.Of(f.Where) }));
        return model;
    }

    /// <param name="raised">Factors on prices that a change brings; null for the sheet itself.</param>
    public CostModel Build(CostEvidence sheet, ImmutableArray<LineChange>? raised = null)
    {
        if (raised is null)
        {
            // Lines that a change adds are held against those that stay where they are typed.
            _faults.AddRange(Once.Faults(sheet.Lines.Select(l => l.Id), "lines"));
            _faults.AddRange(Once.Faults(sheet.Labour.Select(l => l.Id), "labour"));
            _faults.AddRange(Once.Faults(sheet.Moulds.Select(l => l.Id), "moulds"));
            _faults.AddRange(Once.Faults(_lawful.Concat(sheet.Fees).Select(l => l.Id), "fees"));
        }

        var changed = (raised ?? []).Where(c => c.PriceTimes is not null).DistinctBy(c => c.Id).ToDictionary(c => c.Id, StringComparer.Ordinal);
        OneOf(sheet.Freight, sheet.FreightPerShipment, "freightPerShipment", "freight");
        OneOf(sheet.Insurance, sheet.InsurancePct, "insurancePct", "insurance");
        if (sheet is { Duty: not null, DutyRate: not null })
        {
            _faults.Add(new Fault("dutyRate", "stands beside duty", "give the amount or the rates"));
        }

        if (sheet.DutySheet is not null && (sheet.Duty is not null || sheet.DutyRate is not null))
        {
            _faults.Add(new Fault("dutySheet", $"stands beside {(sheet.Duty is not null ? "duty" : "dutyRate")}", "leave that out: the duty is worked out from the worksheet"));
        }

        return new CostModel(
            [.. sheet.Lines.Select((l, i) => Line(l, $"lines[{i}]", changed.GetValueOrDefault(l.Id)))],
            [.. sheet.Labour.Select((l, i) => Work(l, $"labour[{i}]"))],
            Share("overhead", sheet.OverheadPct, MarginBasis.Cost, "overheadPct"),
            sheet.OverheadOn,
            [.. sheet.Moulds.Select((m, i) => Mould(m, sheet, $"moulds[{i}]"))],
            Share("factory margin", sheet.FactoryMarginPct, sheet.FactoryMarginOn, "factoryMarginPct"),
            [.. Amount("freight", sheet.Freight, "", "freight"), .. PerShipment("freight of the shipment", sheet.FreightPerShipment, "", sheet, "freightPerShipment")],
            [.. Amount("insurance", sheet.Insurance, "", "insurance")],
            Share("insurance", sheet.InsurancePct, MarginBasis.Cost, "insurancePct"),
            [
                .. Amount("duty", sheet.Duty, "", "duty"),
                .. Amount("specific duty", sheet.DutyRate?.Specific, sheet.DutyRate?.Currency ?? "", "dutyRate.specific")],
            Share("duty rate", sheet.DutyRate?.AdValoremPct, MarginBasis.Cost, "dutyRate.adValoremPct"),
            sheet.DutyRate?.On ?? ValueBasis.Fob,
            [
                .. _lawful.SelectMany(f => Charge(f, sheet, "usFees", "usFees")),
                .. sheet.Fees.SelectMany((f, i) => Charge(f, sheet, $"fees[{i}]", $"fees[{i}].currency"))],
            Share("importer's margin", sheet.ImporterMarginPct, sheet.ImporterMarginOn, "importerMarginPct"),
            Share("retail margin", sheet.RetailMarginPct, sheet.RetailMarginOn, "retailMarginPct"));
    }

    private Item Line(CostLine line, string where, LineChange? raised)
    {
        var price = _inputs.Add($"price of {line.Material} ({line.Id})", line.Price);
        var factors = new List<Factor> { new(FactorKind.Times, price) };
        factors.AddRange(_currencies.Of(line.Price, line.Currency ?? "", PerWord(line.Per), where + ".price", _faults));
        if (raised?.PriceTimes is { } times)
        {
            var share = _inputs.Add($"share of the price that moves ({line.Id})", raised.PriceSharePct ?? Measured.Exact(100, "%"));
            factors.Add(new Factor(FactorKind.ShareTimes, _inputs.Add($"factor on the price ({line.Id})", times), share));
        }

        if (line.PriceList is { } list)
        {
            if (_lists.TryGetValue(list, out var factor))
            {
                factors.Add(new Factor(FactorKind.Times, _inputs.Add($"price list {list}", factor)));
            }
            else
            {
                _faults.Add(new Fault(where + ".priceList", $"is '{list}', which is no price list of this sheet", "name one of priceLists"));
            }
        }

        if (line.WastePct is { } waste)
        {
            factors.Add(new Factor(line.WasteOf == WasteBasis.Net ? FactorKind.OnTop : FactorKind.ShareOfResult, _inputs.Add($"waste of {line.Material} ({line.Id})", waste)));
        }

        return new Item(line.Id, $"{line.Component}, {line.Material}", new Term(Need(line, where, factors), [.. factors]), price);
    }

    /// <summary>Adds what the price is multiplied with, and gives the whole number that turns its units into each other.</summary>
    private int Need(CostLine line, string where, List<Factor> factors)
    {
        int Of(string what, Measured value) => _inputs.Add($"{what} of {line.Component} ({line.Id})", value);
        void Area(Measured area) => factors.Add(new(FactorKind.Times, Of("area", area)));
        switch (line.Per)
        {
            case PriceBasis.SquareMetre or PriceBasis.RunningMetre:
                var divisor = 100;
                if (line.NetAreaDm2 is { } whole)
                {
                    Area(whole);
                }
                else if (line is { MassG: { } mass, GramsPerM2: { } gsm })
                {
                    factors.Add(new(FactorKind.Times, Of("mass", mass)));
                    factors.Add(new(FactorKind.Over, Of("mass per area", gsm)));
                    divisor = 1;
                }
                else
                {
                    _faults.Add(new Fault(where + ".netAreaDm2", "is missing for a price by area", "give the net area of a pair in dm2, or massG with gramsPerM2"));
                }

                if (line.Per == PriceBasis.RunningMetre)
                {
                    if (line.WidthM is { } width)
                    {
                        factors.Add(new(FactorKind.Over, Of("width", width)));
                    }
                    else
                    {
                        _faults.Add(new Fault(where + ".widthM", "is missing for a price by the running metre", "give the usable width in m"));
                    }
                }

                return divisor;
            case PriceBasis.Kilogram when line.MassG is { } mass:
                factors.Add(new(FactorKind.Times, Of("mass", mass)));
                return 1000;
            case PriceBasis.Kilogram when line is { NetAreaDm2: { } area, GramsPerM2: { } gsm }:
                Area(area);
                factors.Add(new(FactorKind.Times, Of("mass per area", gsm)));
                return 100_000;
            case PriceBasis.Kilogram:
                _faults.Add(new Fault(where + ".massG", "is missing for a price per kg", "give the net mass of a pair in g, or netAreaDm2 with gramsPerM2"));
                return 1;
            case PriceBasis.Piece when line.Pieces is { } pieces:
                factors.Add(new(FactorKind.Times, Of("pieces", pieces)));
                return 1;
            case PriceBasis.Piece:
                _faults.Add(new Fault(where + ".pieces", "is missing for a price per piece", "give the pieces in a pair"));
                return 1;
            default:
                return 1;
        }
    }

    private Item Work(LabourLine line, string where)
    {
        var rate = _inputs.Add($"hourly rate of {line.Id}", line.RatePerHour);
        return new Item(line.Id, line.Id, new Term(60, [
            new(FactorKind.Times, _inputs.Add($"minutes of {line.Id}", line.Minutes)),
            new(FactorKind.Times, rate),
            .. _currencies.Of(line.RatePerHour, line.Currency ?? "", "h", where + ".ratePerHour", _faults)]), rate);
    }

    private Item Mould(MouldLine line, CostEvidence sheet, string where)
    {
        var cost = _inputs.Add($"cost of {line.Id}", line.Cost);
        return new Item(line.Id, line.Id, new Term(1, [
            new(FactorKind.Times, cost),
            .. Over("pairs of " + line.Id, line.Pairs, "volume", sheet.Volume, where + ".pairs"),
            .. _currencies.Of(line.Cost, line.Currency ?? "", "", where + ".cost", _faults)]), cost);
    }

    /// <param name="money">Place of its currency.</param>
    private IEnumerable<Fee> Charge(FeeLine fee, CostEvidence sheet, string where, string money)
    {
        var given = new object?[] { fee.PerPair, fee.PerShipment, fee.Pct }.Count(g => g is not null);
        if (given != 1)
        {
            _faults.Add(new Fault(where, given == 0 ? "has no amount" : "has several amounts", "give one of perPair, perShipment and pct"));
            return [];
        }

        if (fee.Pct is not { } pct)
        {
            return [
                .. Amount(fee.Id, fee.PerPair, fee.Currency ?? "", where + ".perPair").Select(t => new Fee.Amount(fee.Id, t)),
                .. PerShipment(fee.Id, fee.PerShipment, fee.Currency ?? "", sheet, where + ".perShipment").Select(t => new Fee.Amount(fee.Id, t))];
        }

        if (fee.Min > fee.Max)
        {
            _faults.Add(new Fault(where + ".min", "is above max", "give the least first"));
        }

        var place = _inputs.Add($"rate of {fee.Id}", pct);
        if (fee.Min is null && fee.Max is null)
        {
            return [new Fee.Share(fee.Id, place, fee.On, -1, -1, null, null)];
        }

        var rate = _currencies.Of(Measured.Exact((double)(fee.Max ?? fee.Min ?? 0), ""), fee.Currency ?? "", "", money, _faults);
        return Over("", null, "pairs of a shipment", sheet.ShipmentPairs, where, "shipmentPairs")
            .Select(pairs => new Fee.Share(fee.Id, place, fee.On, pairs.Input, rate.IsEmpty ? -1 : rate[0].Input, fee.Min, fee.Max));
    }

    private IEnumerable<Term> Amount(string label, Measured? amount, string currency, string where) => amount is null
        ? []
        : [new Term(1, [new(FactorKind.Times, _inputs.Add(label, amount)), .. _currencies.Of(amount, currency, "pair", where, _faults)])];

    private IEnumerable<Term> PerShipment(string label, Measured? amount, string currency, CostEvidence sheet, string where) => amount is null
        ? []
        : [new Term(1, [
            new(FactorKind.Times, _inputs.Add(label, amount)),
            .. Over("", null, "pairs of a shipment", sheet.ShipmentPairs, where, "shipmentPairs"),
            .. _currencies.Of(amount, currency, "", where, _faults)])];

    private ImmutableArray<Factor> Over(string label, Measured? own, string sheetLabel, Measured? ofSheet, string where, string field = "volume")
    {
        if ((own ?? ofSheet) is { } pairs)
        {
            return [new(FactorKind.Over, _inputs.Add(own is null ? sheetLabel : label, pairs))];
        }

        _faults.Add(new Fault(where, "is spread over pairs, and nobody says how many", $"give {field}"));
        return [];
    }

    private Margin Share(string label, Measured? pct, MarginBasis on, string where)
    {
        if (on == MarginBasis.Price && pct?.Value >= 100)
        {
            _faults.Add(new Fault(where, FormattableString.Invariant($"is {pct.Value} % of the price"), "give less than 100, or say that it is a share of the cost"));
        }

        return pct is null ? Margin.None : new Margin(_inputs.Add(label, pct), on);
    }

    private void OneOf(Measured? amount, Measured? other, string where, string field)
    {
        if (amount is not null && other is not null)
        {
            _faults.Add(new Fault(where, $"stands beside {field}", "give one of the two"));
        }
    }

    private static string PerWord(PriceBasis per) => per switch
    {
        PriceBasis.SquareMetre => "m2",
        PriceBasis.RunningMetre => "m",
        PriceBasis.Kilogram => "kg",
        PriceBasis.Pair => "pair",
        _ => "piece",
    };
}
