using System.Collections.Immutable;
using Pairbench.Measuring;
using Schedule = Pairbench.Footwear.Duty.UsFees;

namespace Pairbench.Footwear.Cost;

/// <summary>Fees of a formal entry into the United States, merchandise processing and harbour maintenance, as lines of a sheet.</summary>
internal static class UsFeeLines
{
    /// <param name="faults">Told where the year of entry is not in the schedule.</param>
    /// <param name="notes">Told what was taken from it.</param>
    public static ImmutableArray<FeeLine> Of(UsFees asked, Schedule schedule, List<Fault> faults, List<string> notes)
    {
        if (asked.EnteredOn is not { } entered)
        {
            notes.Add("The day of entry into the United States is not stated; its fees are not in the sheet.");
            return [];
        }

        if (schedule.YearOf(entered) is not { } year)
        {
            faults.Add(new Fault(
                "usFees.enteredOn",
                FormattableString.Invariant($"is {entered:yyyy-MM-dd}, and the least and most of the processing fee are known for {schedule.KnownYears} only (fiscal years from 1 October)"),
                "give the fee as a line of fees with pct, min and max"));
            return [];
        }

        notes.Add(FormattableString.Invariant($"Merchandise processing fee: {schedule.MerchandiseProcessingPct} % of the FOB value of the entry, at least {year.MinUsd:0.00} and at most {year.MaxUsd:0.00} USD (fiscal year {year.FiscalYear}; {year.Status}), spread over the pairs of the shipment."));
        var processing = new FeeLine("merchandise-processing", Pct: Measured.Exact(schedule.MerchandiseProcessingPct, "%"), Min: year.MinUsd, Max: year.MaxUsd, Currency: "USD");
        if (asked.Transport != Transport.Ocean)
        {
            return [processing];
        }

        notes.Add(FormattableString.Invariant($"Harbour maintenance fee: {schedule.HarborMaintenancePct} % of the FOB value of ocean cargo."));
        return [processing, new FeeLine("harbour-maintenance", Pct: Measured.Exact(schedule.HarborMaintenancePct, "%"))];
    }
}
