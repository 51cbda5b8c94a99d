using System.CommandLine;

namespace Pairbench.CommandLine.Commands;

/// <summary>Options that several commands share.</summary>
internal static class CommonOptions
{
    public static Option<string?> Out(string description) => new("--out") { Description = description, HelpName = "DIR" };

    public static Option<bool> Json() => new("--json") { Description = "print one JSON document and nothing else" };
}
