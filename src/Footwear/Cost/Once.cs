namespace Pairbench.Footwear.Cost;

/// <summary>Names that may stand once only.</summary>
internal static class Once
{
    /// <param name="where">Place of the list.</param>
    public static IEnumerable<Fault> Faults(IEnumerable<string> names, string where, string right = "give each an id of its own") => names
        .GroupBy(n => n, StringComparer.Ordinal)
        .Where(g => g.Count() > 1)
        .Select(twice => new Fault(where, $"'{twice.Key}' stands twice", right));
}
