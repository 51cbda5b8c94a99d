using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>The value that a market takes its duty of.</summary>
internal static class CustomsValue
{
    /// <summary>The stated value on the basis of the market, assists included; null where none is stated.</summary>
    /// <param name="source">Entry that states it, as <c>duty/main</c>: its cause is named after it.</param>
    public static Measured? Of(DutyEvidence evidence, Schedule schedule, string source, List<Fault> faults)
    {
        if (evidence.CustomsValue is not { } given)
        {
            if (evidence.Assists is > 0)
            {
                faults.Add(new Fault("assists", "stand beside no customsValue, and would be lost", "give the price as customsValue.value, or the value with its assists as facts.valueUsdPerPair alone"));
            }

            return null;
        }

        if (given is { Value: { } first, Amount: { } second } && first.Value != second.Value)
        {
            faults.Add(new Fault("customsValue.amount", "is another than customsValue.value", "give one of them"));
        }

        var value = given.Value ?? given.Amount;
        if (value is null)
        {
            faults.Add(new Fault("customsValue.value", "is missing", "give the customs value of a pair"));
            return null;
        }

        value = given.StandardUncertainty is { } u and > 0 ? Measured.Of(value.Value, value.Unit, $"customs-value:{source}", u) : value;
        if ((given.Currency ?? given.Unit) is { } currency && currency != schedule.Currency)
        {
            faults.Add(new Fault("customsValue.currency", $"is {currency}", $"give the value in {schedule.Currency}, at the rate that customs uses on the day of entry"));
        }

        var wanted = evidence.Market == Market.Us ? CustomsBasis.Fob : CustomsBasis.Cif;
        if (given.Basis is { } basis && basis != wanted)
        {
            if (given.FreightAndInsurance is not { } way)
            {
                faults.Add(new Fault("customsValue.freightAndInsurance", "is missing", $"give freight and insurance to the border per pair: the market values {(wanted == CustomsBasis.Fob ? "FOB, the amount is CIF" : "CIF, the amount is FOB")}"));
            }
            else
            {
                if (wanted == CustomsBasis.Fob && way.Value > value.Value)
                {
                    faults.Add(new Fault("customsValue.freightAndInsurance", FormattableString.Invariant($"is {way.Value:0.##}, more than the CIF amount of {value.Value:0.##} it is part of"), "give freight and insurance of one pair"));
                }

                value = Measured.Linear(value.Unit, (value, 1), (way, wanted == CustomsBasis.Cif ? 1 : -1));
            }
        }

        return value + Measured.Exact(evidence.Assists ?? 0, value.Unit);
    }
}
