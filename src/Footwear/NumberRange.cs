using System.Globalization;

namespace Pairbench.Footwear;

/// <summary>Which numbers are right.</summary>
/// <param name="High">From 1e15 on nothing is too large.</param>
public sealed record NumberRange(double Low, double High, bool LowExcluded = false, bool HighExcluded = false)
{
    private const double Endless = 1e15;

    public bool Holds(double number) => (LowExcluded ? number > Low : number >= Low) && (HighExcluded ? number < High : number <= High);

    /// <summary>What would be right in words.</summary>
    /// <param name="written">A number as the reader knows it, which may be in another unit.</param>
    public string Words(Func<double, string> written)
    {
        ArgumentNullException.ThrowIfNull(written);
        return $"give a number {(LowExcluded ? "above" : "from")} {written(Low)}{(High >= Endless ? "" : $" {(HighExcluded ? "to below" : "to")} {written(High)}")}";
    }

    /// <summary>The two ends alone.</summary>
    public string Ends => High >= Endless ? Text(Low) : $"{Text(Low)} to {Text(High)}";

    /// <summary>The fault of a number that is not among them; null where it is.</summary>
    /// <param name="where">Place of the number.</param>
    public Fault? Refused(string where, double number) => Holds(number) ? null : new Fault(where, $"is {Text(number)}", Words(Text)) { Outside = new NumberOutside(number, this) };

    internal static string Text(double number) => number.ToString("G12", CultureInfo.InvariantCulture);
}

/// <summary>A number that is not among those that are right.</summary>
public sealed record NumberOutside(double Number, NumberRange Range);
