using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>A fiscal year of the merchandise processing fee, in USD for an entry.</summary>
public sealed record FeeYear(int FiscalYear, DateOnly From, decimal MinUsd, decimal MaxUsd, string Status);

/// <summary><c>data/tariff/us-fees.json</c>.</summary>
public sealed record UsFees(string Edition, double MerchandiseProcessingPct, string MerchandiseProcessingLaw, string Status, double HarborMaintenancePct, string HarborMaintenanceLaw, ImmutableArray<FeeYear> ByFiscalYear)
{
    public const string File = "tariff/us-fees.json";

    /// <summary>The fiscal year of a day of entry; null where its amounts are not known.</summary>
    public FeeYear? YearOf(DateOnly day) => ByFiscalYear.LastOrDefault(y => y.From <= day && day < y.From.AddYears(1));

    /// <summary>Years whose amounts are known.</summary>
    public string KnownYears => FormattableString.Invariant($"{ByFiscalYear.Min(y => y.FiscalYear)} to {ByFiscalYear.Max(y => y.FiscalYear)}");
}

/// <summary>Money of a line and of what comes on top of it.</summary>
internal static class Charges
{
    /// <summary>Duty per pair = value x ad valorem / 100 + specific; the uncertainty of the value is carried along.</summary>
    public static Measured Duty(ScheduleLine line, Measured value, string currency)
    {
        ArgumentNullException.ThrowIfNull(line);
        ArgumentNullException.ThrowIfNull(value);
        return Measured.Linear(currency, (value, line.AdValoremPct / 100), (Measured.Exact(line.SpecificPerPair, currency), 1));
    }

    /// <summary>Money to the cent.</summary>
    public static decimal Cents(double money) => Money.Round((decimal)money, 2);

    /// <summary>Extra duties for goods of an origin that are in force on a day; of each that is not counted it is told why.</summary>
    /// <param name="origin">As it is written; null where it is not known. One country under two names is not known to be one.</param>
    /// <param name="day">Day of entry; null where it is not known.</param>
    public static ImmutableArray<ExtraDuty> InForce(ImmutableArray<ExtraDuty> extras, string? origin, DateOnly? day, List<string> cautions)
    {
        ArgumentNullException.ThrowIfNull(cautions);
        var counted = ImmutableArray.CreateBuilder<ExtraDuty>();
        foreach (var extra in extras)
        {
            if (WhyNot(extra, origin, day) is { } why)
            {
                cautions.Add($"{extra.Name} is not counted: {why}.");
            }
            else
            {
                counted.Add(extra);
            }
        }

        return counted.ToImmutable();
    }

    private static string? WhyNot(ExtraDuty extra, string? origin, DateOnly? day) =>
        string.IsNullOrWhiteSpace(origin) ? $"it is for goods of {extra.Origin}, and no origin of the goods is given"
        : CountryName.Folded(extra.Origin) != CountryName.Folded(origin) ? $"it is for goods of {extra.Origin}, and these are of {origin.Trim()}; write both alike if they are one country"
        : day is not { } date ? "no date of entry is given"
        : date < extra.From || date > extra.Until ? "it is not in force on the day of entry"
        : null;

    public static string Shown(Measured money, string currency)
    {
        ArgumentNullException.ThrowIfNull(money);
        var u = money.IsExact ? "" : string.Create(CultureInfo.InvariantCulture, $" ± {money.ExpandedUncertainty():0.00}");
        return string.Create(CultureInfo.InvariantCulture, $"{Cents(money.Value):0.00}{u} {currency}");
    }

    /// <summary>Merchandise processing and harbor maintenance fees of one entry into the U.S., spread over its pairs, unrounded.</summary>
    public static ImmutableArray<Charge> Fees(UsFees fees, CustomsEntry entry, Measured valuePerPair, List<string> cautions)
    {
        ArgumentNullException.ThrowIfNull(fees);
        ArgumentNullException.ThrowIfNull(entry);
        ArgumentNullException.ThrowIfNull(valuePerPair);
        ArgumentNullException.ThrowIfNull(cautions);
        var list = ImmutableArray.CreateBuilder<Charge>();
        if (fees.YearOf(entry.Date) is not { } year)
        {
            cautions.Add($"Minimum and maximum of the merchandise processing fee are not known for {entry.Date:yyyy-MM-dd}, only for fiscal years {fees.KnownYears}: the fee is left out.");
        }
        else
        {
            decimal Of(double perPair) => Math.Clamp(Money.Round((decimal)perPair * entry.Pairs * (decimal)fees.MerchandiseProcessingPct / 100, 2), year.MinUsd, year.MaxUsd);
            var fee = Of(valuePerPair.Value);
            list.Add(new Charge("fee.merchandise", "Merchandise processing fee", Through(valuePerPair, v => (double)(Of(v) / entry.Pairs)), string.Create(CultureInfo.InvariantCulture, $"{fee:0.00} USD for the entry{(fee == year.MaxUsd ? ", its maximum" : fee == year.MinUsd ? ", its minimum" : "")}; fiscal year {year.FiscalYear}, {year.Status}")));
        }

        if (entry.Transport == "sea")
        {
            list.Add(new Charge("fee.harbor", "Harbor maintenance fee", Measured.Linear("USD", (valuePerPair, fees.HarborMaintenancePct / 100)), string.Create(CultureInfo.InvariantCulture, $"{fees.HarborMaintenancePct} % of ocean cargo, {fees.HarborMaintenanceLaw}")));
        }

        return list.ToImmutable();
    }

    /// <summary>A fee that is held between a least and a most: its draws are those of the value, its causes too.</summary>
    private static Measured Through(Measured value, Func<double, double> fee) =>
        BranchDuty.Drawn(fee(value.Value), "USD", value, [.. BranchDuty.All(value).Select(fee)]);
}
