using System.CommandLine;
using Pairbench.Footwear;

namespace Pairbench.CommandLine.Commands;

/// <summary>Options that several commands share.</summary>
internal static class CommonOptions
{
    public static Option<string?> Out(string description) => new("--out") { Description = description, HelpName = "DIR" };

    /// <summary>The folder that is given, looked at before any work begins; null where none is.</summary>
    /// <exception cref="FaultsException">Nothing can be written there.</exception>
    public static string? FolderOf(ParseResult parsed, Option<string?> output) => parsed.GetValue(output) is { } folder ? Checked(output, folder, "") : null;

    /// <summary>The same for a command that has a usual folder.</summary>
    /// <exception cref="FaultsException">Nothing can be written there.</exception>
    public static string FolderOf(ParseResult parsed, Option<string?> output, string usual) => FolderOf(parsed, output) ?? Checked(output, usual, $"is left out, and {usual} ");

    private static string Checked(Option<string?> output, string folder, string before) => OutputFolder.WhyNot(folder) is { } why
        ? throw new FaultsException(new Fault(output.Name, before + why, "name a folder that can be written"))
        : folder;

    public static Option<bool> Json() => new("--json") { Description = "print one JSON document and nothing else" };
}
