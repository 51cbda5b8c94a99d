using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>Which currency an amount is in, and what one unit of it is worth in the currency of the sheet.</summary>
internal sealed partial class Currencies
{
    private readonly string _own;
    private readonly CostInputs _inputs;
    private readonly ImmutableDictionary<string, Measured> _rates;
    private readonly HashSet<string> _used = new(StringComparer.Ordinal);

    public Currencies(CostEvidence sheet, CostInputs inputs, List<Fault> faults)
    {
        (_own, _inputs) = (sheet.Currency, inputs);
        var rates = new Dictionary<string, Measured>(StringComparer.Ordinal);
        foreach (var (rate, i) in sheet.Rates.Select((r, i) => (r, i)))
        {
            // One cause for each currency and day: two sheets that use one rate move together.
            var cause = FormattableString.Invariant($"exchange-rate:{rate.Currency}:{sheet.Currency}:{rate.On:yyyy-MM-dd}");
            var named = Measured.Of(rate.Rate.Value, "", rate.Rate.Budget.Select(c => c.Cause.StartsWith("stated:", StringComparison.Ordinal) ? c with { Cause = cause } : c));
            if (rate.Currency == sheet.Currency)
            {
                faults.Add(new Fault($"rates[{i}].currency", $"is {rate.Currency}, the currency of the sheet", "give rates of other currencies"));
            }
            else if (!rates.TryAdd(rate.Currency, named))
            {
                faults.Add(new Fault($"rates[{i}].currency", $"{rate.Currency} stands twice", "give one rate for each currency"));
            }
        }

        _rates = rates.ToImmutableDictionary(StringComparer.Ordinal);
    }

    /// <summary>Currencies that some amount came in, besides that of the sheet.</summary>
    public ImmutableSortedSet<string> Used => _used.ToImmutableSortedSet(StringComparer.Ordinal);

    /// <summary>The factor that turns an amount into the currency of the sheet: none where it is in that already.</summary>
    /// <param name="stated">Currency beside the amount; empty where there is none.</param>
    /// <param name="per">What the amount is for, as its unit may say it: <c>m2</c>, <c>{pair}</c>; empty for a whole.</param>
    public ImmutableArray<Factor> Of(Measured amount, string stated, string per, string where, List<Fault> faults)
    {
        if (CurrencyOf(amount, stated, per, where, faults) is not { } currency || currency == _own)
        {
            return [];
        }

        if (!_rates.TryGetValue(currency, out var rate))
        {
            faults.Add(new Fault(where, $"is in {currency}, and there is no rate for it", $"give rates: {{ \"currency\": \"{currency}\", \"rate\": ({_own} for 1 {currency}), \"on\": \"the day\" }}"));
            return [];
        }

        _used.Add(currency);
        return [new Factor(FactorKind.Times, _inputs.Add($"exchange rate {currency} to {_own}", rate))];
    }

    /// <summary>The currency of an amount: of its unit, else stated beside it, else that of the sheet.</summary>
    public string CurrencyOf(Measured amount, string stated) =>
        UnitForm().Match(amount.Unit) is { Success: true } unit ? unit.Groups["currency"].Value : stated.Length > 0 ? stated : _own;

    private string? CurrencyOf(Measured amount, string stated, string per, string where, List<Fault> faults)
    {
        if (stated.Length > 0 && !Regex.IsMatch(stated, Money.CurrencyPattern))
        {
            faults.Add(new Fault(Beside(where), $"is '{stated}'", "give the three capitals of ISO 4217, such as EUR"));
            return null;
        }

        if (amount.Unit.Length == 0)
        {
            return CurrencyOf(amount, stated);
        }

        var unit = UnitForm().Match(amount.Unit);
        if (!unit.Success || (unit.Groups["per"].Success && unit.Groups["per"].Value.Trim('{', '}') != per.Trim('{', '}')))
        {
            faults.Add(new Fault(where, $"is in '{amount.Unit}'", $"give an amount in a currency{(per.Length > 0 ? $" per {per.Trim('{', '}')}" : "")}, such as {_own}"));
            return null;
        }

        if (stated.Length > 0 && stated != unit.Groups["currency"].Value)
        {
            faults.Add(new Fault(where, $"is in {unit.Groups["currency"].Value} and its currency says {stated}", "give one currency"));
            return null;
        }

        return unit.Groups["currency"].Value;
    }

    /// <summary>Where the currency of an amount is stated: beside it.</summary>
    private static string Beside(string where) => where[..(where.LastIndexOf('.') + 1)] + "currency";

    [GeneratedRegex(@"\A(?<currency>[A-Z]{3})(/(?<per>[a-z0-9]+|\{[a-z]+\}))?\z")]
    private static partial Regex UnitForm();
}
