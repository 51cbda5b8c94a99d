using System.CommandLine;
using Pairbench.Footwear;

namespace Pairbench.CommandLine.Commands;

/// <summary>Options that several commands share.</summary>
internal static class CommonOptions
{
    public static Option<string?> Out(string description) => new("--out") { Description = description, HelpName = "DIR" };

    /// <summary>The folder that is given, looked at before any work begins; null where none is.</summary>
    /// <exception cref="FaultsException">Nothing can be written there.</exception>
    public static string? FolderOf(ParseResult parsed, Option<string?> output)
    {
        var folder = parsed.GetValue(output);
        if (folder is not null && OutputFolder.WhyNot(folder) is { } why)
        {
            throw new FaultsException(new Fault(output.Name, why, "name a folder that can be written"));
        }

        return folder;
    }

    public static Option<bool> Json() => new("--json") { Description = "print one JSON document and nothing else" };
}
