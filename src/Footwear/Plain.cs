using System.Globalization;

namespace Pairbench.Footwear;

/// <summary>Numbers inside of sentences, where no uncertainty belongs: as given by a person or a standard, and along axes.</summary>
internal static class Plain
{
    /// <summary>At most three decimals, without trailing zeros, with a point in every language.</summary>
    public static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    /// <summary>At most two decimals: sizes and the numbers along an axis.</summary>
    public static string Short(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
