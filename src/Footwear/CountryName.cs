namespace Pairbench.Footwear;

/// <summary>Names of countries as people write them.</summary>
internal static class CountryName
{
    /// <summary>A name without spaces and dots, in capitals: Viet Nam and VIETNAM are alike, U.S.A. and USA too.</summary>
    public static string Folded(string name) => name.Replace(" ", "", StringComparison.Ordinal).Replace(".", "", StringComparison.Ordinal).ToUpperInvariant();
}
