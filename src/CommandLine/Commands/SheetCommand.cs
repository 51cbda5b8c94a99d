using System.CommandLine;
using Pairbench.Footwear;
using Pairbench.Imaging.Datum;
using Pairbench.Reporting.Pdf;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>sheet --paper A4|A3|Letter --out FILE.pdf</c>: the datum sheet; with <c>--cards</c> the loose corner cards.</summary>
internal static class SheetCommand
{
    public static Command Create(Terminal terminal)
    {
        var paper = new Option<string>("--paper") { Description = "A4, A3 or Letter", DefaultValueFactory = _ => "A4" };
        var cards = new Option<bool>("--cards") { Description = "four loose corner cards on one A4 instead of the sheet" };
        var output = new Option<string>("--out") { Description = "the PDF file to write", Required = true };
        var command = new Command("sheet", "Prints the datum sheet that gives a photograph its millimetres, or loose corner cards.") { paper, cards, output };
        command.SetAction(parsed =>
        {
            var layout = LayoutOf(parsed.GetValue(paper)!, parsed.GetValue(cards));
            var file = parsed.GetValue(output)!;
            if (file.Length == 0 || Directory.Exists(file) || Path.GetDirectoryName(Path.GetFullPath(file)) is not { } folder || !Directory.Exists(folder) || OutputFolder.WhyNot(folder) is not null)
            {
                throw new FaultsException(new Fault($"--out {file}".TrimEnd(), "is no file that can be written", "name a PDF file in a folder that is there"));
            }

            File.WriteAllBytes(file, DatumPdf.Write(layout));
            terminal.Error.WriteLine($"{layout.Name} in {file}: print it at actual size (100 %), then lay a steel rule on the check bars");
            return ExitCode.Done;
        });
        return command;
    }

    private static DatumLayout LayoutOf(string paper, bool cards)
    {
        if (!Enum.TryParse<DatumPaper>(paper, ignoreCase: true, out var known) || !Enum.GetNames<DatumPaper>().Contains(paper, StringComparer.OrdinalIgnoreCase))
        {
            throw new FaultsException(new Fault($"--paper {paper}", "is no paper of the datum sheet", $"use one of {string.Join(", ", Enum.GetNames<DatumPaper>())}"));
        }

        return !cards ? DatumLayout.Sheet(known)
            : known == DatumPaper.A4 ? DatumLayout.Cards
            : throw new FaultsException(new Fault($"--paper {paper}", "is no paper of the corner cards", "print the cards on A4"));
    }
}
