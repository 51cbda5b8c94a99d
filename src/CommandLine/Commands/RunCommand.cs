using System.CommandLine;
using Pairbench.Footwear;
using Pairbench.Imaging.Photographs;
using Pairbench.Storage;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>run EXAMINATION EVIDENCE.json</c>: one examination.</summary>
internal static class RunCommand
{
    public static Command Create(Terminal terminal)
    {
        var name = new Argument<string>("EXAMINATION") { Description = "the examination, such as underfoot" };
        var evidence = new Argument<string>("EVIDENCE.json") { Description = "its evidence; photographs are looked for beside this file" };
        var output = CommonOptions.Out("folder for the outcome and its plates");
        var json = CommonOptions.Json();
        var command = new Command("run", "Runs one examination.") { name, evidence, output, json };
        command.SetAction((parsed, cancellation) => Task.FromResult(Run(
            terminal,
            SchemaCommand.ExaminationNamed(parsed.GetRequiredValue(name)),
            parsed.GetRequiredValue(evidence),
            CommonOptions.FolderOf(parsed, output),
            parsed.GetValue(json),
            cancellation)));
        return command;
    }

    private static int Run(Terminal terminal, Examination examination, string path, string? folder, bool json, CancellationToken cancellation)
    {
        var element = InputFile.Json(path);
        var photos = new FolderPhotoSource(Path.GetDirectoryName(Path.GetFullPath(path))!);
        var surroundings = new Surroundings(photos, CatalogueFolder.Load(CatalogueFolder.Installed), Subject.Unknown);
        var outcome = ReviewRun.ExamineAlone(examination, element, surroundings, cancellation);
        return CommandOutput.Give(terminal, outcome, $"{examination.Name}.json", folder, json);
    }
}
