using System.Text.Json.Nodes;
using Pairbench.Footwear;
using Pairbench.Reporting;

namespace Pairbench.CommandLine;

/// <summary>What a command that examines ends with.</summary>
internal static class CommandOutput
{
    /// <summary>One outcome: its files where a folder is named, then itself.</summary>
    /// <param name="name">Of the document in the folder.</param>
    /// <param name="json">Whether it is given as one JSON document, else in words.</param>
    /// <param name="print">The words; else those of <see cref="OutcomePrinter"/>.</param>
    public static int Give(Terminal terminal, Outcome outcome, string name, string? folder, bool json, Action<TextWriter>? print = null)
    {
        if (folder is not null)
        {
            ReportFiles.Write(folder, outcome, name);
            terminal.Error.WriteLine($"written to {folder}");
        }

        return Give(terminal, OutcomeJson.Of(outcome), json, print ?? (writer => OutcomePrinter.Print(writer, outcome)));
    }

    /// <summary>One JSON document, or what says the same in words.</summary>
    public static int Give(Terminal terminal, JsonObject document, bool json, Action<TextWriter> print)
    {
        if (json)
        {
            terminal.Out.WriteLine(DocumentText.Of(document));
        }
        else
        {
            // Words of a review go to a terminal, which heeds control characters.
            using var words = new StringWriter { NewLine = "\n" };
            print(words);
            terminal.Out.Write(PlainText.Of(words.ToString()));
        }

        return ExitCode.Done;
    }
}
