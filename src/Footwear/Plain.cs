using System.Globalization;

namespace Pairbench.Footwear;

/// <summary>Numbers inside of sentences, where no uncertainty belongs: as given by a person or a standard.</summary>
internal static class Plain
{
    /// <summary>At most three decimals, without trailing zeros, with a point in every language.</summary>
    public static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}
