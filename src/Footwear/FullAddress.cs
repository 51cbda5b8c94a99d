using System.Text.RegularExpressions;

namespace Pairbench.Footwear;

/// <summary>Where a figure, a finding or something not seen stands in a review: <c>examination/entry/id</c>, such as <c>underfoot/left/share.textile</c>.</summary>
/// <param name="Id">Its id in the outcome of the entry.</param>
public sealed partial record FullAddress(EntryAddress Entry, string Id)
{
    /// <summary>Reads the address of a figure or of a finding as a file writes it; null where it is none.</summary>
    public static FullAddress? Read(string text) =>
        Form().Match(text) is { Success: true } read ? new FullAddress(new EntryAddress(read.Groups[1].Value, read.Groups[2].Value), read.Groups[3].Value) : null;

    /// <summary>Reads an address as a store keeps it: what stands behind the second stroke is the id, whatever it is, since outcomes that were written elsewhere may call their figures otherwise.</summary>
    public static FullAddress Kept(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.Split('/', 3) is [var examination, var entry, var id] ? new FullAddress(new EntryAddress(examination, entry), id) : new FullAddress(new EntryAddress("", ""), text);
    }

    /// <summary>As the outcome of an entry writes it: by its id alone where it is of that entry.</summary>
    public string In(EntryAddress entry) => Entry == entry ? Id : ToString();

    public override string ToString() => $"{Entry}/{Id}";

    [GeneratedRegex(@"\A([a-z0-9-]+)/([a-z0-9-]+)/([a-z0-9-]+(?:\.{1,2}[a-z0-9-]+)*)\z")]
    private static partial Regex Form();
}
