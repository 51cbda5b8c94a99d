using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Pairbench.Footwear;
using Pairbench.Footwear.Change;
using Pairbench.Storage;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>compare FOLDER FOLDER...</c>: review folders against each other, the last against the first.</summary>
internal static class CompareCommand
{
    public static Command Create(Terminal terminal)
    {
        var folders = new Argument<string[]>("FOLDER") { Description = "review folders in order of time; the last is compared with the first", Arity = new ArgumentArity(2, 50) };
        var tolerance = new Option<string[]>("--tolerance") { Description = "a difference no larger counts as the same, such as hardness/outsole/left.hardness=2", HelpName = "ADDRESS=VALUE", Arity = ArgumentArity.ZeroOrMore };
        var output = CommonOptions.Out("folder for the outcome and its plates");
        var json = CommonOptions.Json();
        var command = new Command("compare", "Compares builds: what really changed, what stayed the same, and what cannot be told.") { folders, tolerance, output, json };
        command.SetAction((parsed, cancellation) => Task.FromResult(Run(
            terminal,
            parsed.GetRequiredValue(folders),
            parsed.GetValue(tolerance) ?? [],
            CommonOptions.FolderOf(parsed, output),
            parsed.GetValue(json),
            cancellation)));
        return command;
    }

    private static int Run(Terminal terminal, string[] folders, string[] tolerances, string? output, bool json, CancellationToken cancellation)
    {
        var stated = Tolerances(tolerances);
        var catalogue = CatalogueFolder.Load(CatalogueFolder.Installed);
        var reviews = folders.Select((folder, i) => ExaminedFolder.Read(terminal, folder, string.Create(CultureInfo.InvariantCulture, $"review-{i + 1}"), catalogue, cancellation)).ToImmutableArray();
        var outcome = ReviewComparison.Compare(reviews, stated, cancellation).Outcome;
        return CommandOutput.Give(terminal, outcome, "change.json", output, json, writer =>
        {
            OutcomePrinter.Print(writer, outcome.Tables);
            OutcomePrinter.Print(writer, outcome with { Figures = [] });
        });
    }

    private static ImmutableDictionary<string, double> Tolerances(string[] texts)
    {
        var faults = new List<Fault>();
        var read = ImmutableDictionary.CreateBuilder<string, double>(StringComparer.Ordinal);
        foreach (var text in texts)
        {
            var at = text.LastIndexOf('=');
            if (at > 0 && double.TryParse(text[(at + 1)..], NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && value > 0 && double.IsFinite(value))
            {
                read[text[..at]] = value;
            }
            else
            {
                faults.Add(new Fault("--tolerance", $"is '{text}'", "give ADDRESS=VALUE with a value above zero, such as hardness/outsole/left.hardness=2"));
            }
        }

        return faults.Count == 0 ? read.ToImmutable() : throw new FaultsException(faults);
    }
}
