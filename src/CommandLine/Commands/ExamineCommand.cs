using System.CommandLine;
using Pairbench.Footwear;
using Pairbench.Imaging.Photographs;
using Pairbench.Reporting;
using Pairbench.Reporting.CorrectionSheets;
using Pairbench.Storage;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>examine FOLDER</c>: every examination that a review folder has evidence for.</summary>
internal static class ExamineCommand
{
    public static Command Create(Terminal terminal)
    {
        var folder = new Argument<string>("FOLDER") { Description = $"a folder with {Review.FileName} and its photographs" };
        var output = CommonOptions.Out("folder for the report, the figures and the plates");
        var language = new Option<string?>("--language") { Description = "language beside English on the correction sheet, such as vi; else that of the review" };
        var json = CommonOptions.Json();
        var command = new Command("examine", "Examines a review folder and gives its verdict.") { folder, output, language, json };
        command.SetAction((parsed, cancellation) => Task.FromResult(Run(
            terminal,
            parsed.GetRequiredValue(folder),
            CommonOptions.FolderOf(parsed, output),
            parsed.GetValue(language),
            parsed.GetValue(json),
            cancellation)));
        return command;
    }

    internal static int Run(Terminal terminal, string folder, string? output, string? language, bool json, CancellationToken cancellation)
    {
        var review = ReviewRun.Read(InputFile.Review(folder));
        var photos = new FolderPhotoSource(folder);
        var catalogue = CatalogueFolder.Load(CatalogueFolder.Installed);
        var examined = ReviewRun.Examine(review, photos, catalogue, new ProgressLines(terminal.Error), cancellation);
        var today = DateOnly.FromDateTime(terminal.Clock.GetLocalNow().DateTime);
        OutcomePrinter.Heed(terminal.Error, review.CautionsOn(today));
        if (output is not null)
        {
            var imprint = Imprint.OfThisProgram(today);
            var glossary = catalogue.Read<Glossary>(Glossary.File);
            var sheets = CorrectionFiles.Names.Select(n => (Name: n, Content: CorrectionFiles.Write(n, examined, review, photos, glossary, imprint, language))).ToList();
            foreach (var file in new ReportFiles(examined, review, photos, imprint).WriteTo(output).Concat(sheets.Select(s => ReportFiles.WriteOne(output, s.Name, s.Content))))
            {
                terminal.Error.WriteLine($"written {file}");
            }
        }

        return CommandOutput.Give(terminal, OutcomeJson.OfReview(examined, review), json, writer =>
        {
            foreach (var outcome in examined.Outcomes)
            {
                OutcomePrinter.Print(writer, outcome);
            }

            OutcomePrinter.Heed(writer, review.Cautions);
            OutcomePrinter.Print(writer, examined.Verdict);
        });
    }

    private sealed class ProgressLines(TextWriter writer) : IProgress<EntryProgress>
    {
        public void Report(EntryProgress value) => writer.WriteLine($"examining {value.Entry}");
    }
}
