using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>Whether a value was read in a source.</summary>
internal enum FeeStatus
{
    Seen,
    Memory,
}

/// <summary>Least and most of a fiscal year, per entry, USD.</summary>
internal sealed record FeeYear(int FiscalYear, DateOnly From, decimal Min, decimal Max, FeeStatus Status, string Source);

internal sealed record ProcessingFee(string Law, double Pct, FeeStatus Status, string Source, [MinLength(1)] ImmutableArray<FeeYear> Years)
{
    /// <summary>The fiscal year (1 October to 30 September) of a day of entry; null where the file does not have it.</summary>
    public FeeYear? YearOf(DateOnly entered) => Years.FirstOrDefault(y => entered >= y.From && entered < y.From.AddYears(1));
}

internal sealed record HarbourFee(string Law, double Pct, FeeStatus Status, string Source);

/// <summary>Fees of a formal entry into the United States: merchandise processing and harbour maintenance.</summary>
internal sealed record UsFeesFile(string Edition, ProcessingFee Processing, HarbourFee Harbour)
{
    public const string File = "cost/us-fees.json";

    /// <summary>The fees as lines of a sheet.</summary>
    /// <param name="faults">Told where the year of entry is not in the file.</param>
    public ImmutableArray<FeeLine> Lines(UsFees asked, List<Fault> faults, List<string> notes)
    {
        if (asked.EnteredOn is not { } entered)
        {
            notes.Add("The day of entry into the United States is not stated; its fees are not in the sheet.");
            return [];
        }

        if (Processing.YearOf(entered) is not { } year)
        {
            faults.Add(new Fault(
                "usFees.enteredOn",
                FormattableString.Invariant($"is {entered:yyyy-MM-dd}, and the least and most of the processing fee are known for {Processing.Years.Min(y => y.FiscalYear)} to {Processing.Years.Max(y => y.FiscalYear)} only (fiscal years from 1 October)"),
                "give the fee as a line of fees with pct, min and max"));
            return [];
        }

        notes.Add(FormattableString.Invariant($"Merchandise processing fee: {Processing.Pct} % of the FOB value of the entry, at least {year.Min:0.00} and at most {year.Max:0.00} USD (fiscal year {year.FiscalYear}; {(year.Status == FeeStatus.Seen ? "read in a source" : "from memory, not read in a source")}), spread over the pairs of the shipment."));
        var processing = new FeeLine("merchandise-processing", Pct: Measured.Exact(Processing.Pct, "%"), Min: year.Min, Max: year.Max, Currency: "USD");
        if (asked.Transport != Transport.Ocean)
        {
            return [processing];
        }

        notes.Add(FormattableString.Invariant($"Harbour maintenance fee: {Harbour.Pct} % of the FOB value of ocean cargo."));
        return [processing, new FeeLine("harbour-maintenance", Pct: Measured.Exact(Harbour.Pct, "%"))];
    }
}
