using System.Collections.Immutable;
using System.Globalization;

namespace Pairbench.Footwear;

/// <summary>
/// Money as decimals, in duty and cost alike. Nothing is rounded on the way; what a person is shown or pays is rounded once, half away from zero
/// (common practice in trade and at customs, no source; rule B of ISO 80000-1, annex B, from memory), and parts are rounded so that they add up to their total.
/// </summary>
public static class Money
{
    public const string CurrencyPattern = "^[A-Z]{3}$";

    /// <summary>Currencies whose smallest unit is not a hundredth (ISO 4217, from memory).</summary>
    private static readonly ImmutableDictionary<string, int> Digits = new[]
    {
        ("JPY", 0), ("KRW", 0), ("VND", 0), ("CLP", 0), ("ISK", 0), ("PYG", 0), ("XAF", 0), ("XOF", 0),
        ("TND", 3), ("KWD", 3), ("BHD", 3), ("JOD", 3), ("OMR", 3),
    }.ToImmutableDictionary(d => d.Item1, d => d.Item2, StringComparer.Ordinal);

    /// <summary>Decimals of the smallest unit of a currency.</summary>
    public static int DecimalsOf(string currency) => Digits.GetValueOrDefault(currency, 2);

    public static decimal Round(decimal amount, int decimals) => Math.Round(amount, decimals, MidpointRounding.AwayFromZero);

    /// <summary>The amount rounded to the smallest unit, with all its decimals and thousands kept together.</summary>
    public static string Text(decimal amount, int decimals) => Round(amount, decimals).ToString("F" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);

    /// <summary>
    /// Rounds parts so that they add up to a total that is already rounded: each is cut down to the unit, and the units that lack go to the largest remainders,
    /// the first of equals first. Where a total was rounded down so far that units are over, the smallest remainders give them.
    /// </summary>
    /// <param name="total">A multiple of the unit, not more than one unit a part away from the sum of the parts.</param>
    public static ImmutableArray<decimal> Apportion(ImmutableArray<decimal> parts, decimal total, int decimals)
    {
        var unit = new decimal(1, 0, 0, false, (byte)decimals);
        var floors = parts.Select(p => Math.Floor(p / unit) * unit).ToArray();
        var lacking = (int)Math.Round((total - floors.Sum()) / unit);
        var byRemainder = parts.Select((p, i) => (Remainder: p - floors[i], Index: i)).OrderByDescending(p => Math.Sign(lacking) * p.Remainder).ThenBy(p => p.Index);
        foreach (var (_, index) in byRemainder.Where(p => lacking > 0 || floors[p.Index] > 0).Take(Math.Abs(lacking)))
        {
            floors[index] += Math.Sign(lacking) * unit;
        }

        return [.. floors];
    }
}
