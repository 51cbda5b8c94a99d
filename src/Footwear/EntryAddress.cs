using System.Text.RegularExpressions;

namespace Pairbench.Footwear;

/// <summary>Where an entry of evidence and its outcome stand in a review: <c>examination/entry</c>, such as <c>underfoot/left</c>.</summary>
/// <param name="Examination">Name of the examination.</param>
/// <param name="Entry">Id of the entry.</param>
public sealed partial record EntryAddress(string Examination, string Entry)
{
    /// <summary>Id of an entry that stands alone.</summary>
    public const string Main = "main";

    /// <summary>What tells it from the other entries of its examination, in words; empty for the main one.</summary>
    public string Name => Entry == Main ? "" : InWords(Entry);

    /// <summary>Its heading on screens and paper, such as <c>Underfoot: left</c>.</summary>
    public string Title => Footwear.Examination.TitleOf(Examination) + (Name.Length == 0 ? "" : $": {Name}");

    /// <summary>The id of an entry as it is read, such as <c>toe caps</c>.</summary>
    public static string InWords(string entry) => entry.Replace('-', ' ');

    /// <summary>Reads it as a file writes it; null where it is none.</summary>
    public static EntryAddress? Read(string text) => Form().Match(text) is { Success: true } read ? new EntryAddress(read.Groups[1].Value, read.Groups[2].Value) : null;

    /// <summary>The address of one of its figures, findings or things not seen.</summary>
    public FullAddress Of(string id) => new(this, id);

    public override string ToString() => $"{Examination}/{Entry}";

    [GeneratedRegex(@"\A([a-z0-9-]+)/([a-z0-9-]+)\z")]
    private static partial Regex Form();
}
