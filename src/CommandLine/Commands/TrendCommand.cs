using System.Collections.Immutable;
using System.CommandLine;
using System.Globalization;
using Pairbench.Footwear.Trend;
using Pairbench.Storage;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>trend FOLDER...</c>: figures and findings over the builds of several review folders.</summary>
internal static class TrendCommand
{
    public static Command Create(Terminal terminal)
    {
        var folders = new Argument<string[]>("FOLDER") { Description = "review folders in order of time", Arity = new ArgumentArity(2, 500) };
        var follow = new Option<string[]>("--follow") { Description = "full address of a figure, such as hardness/outsole/left.hardness; else every figure that two builds have", HelpName = "ADDRESS", Arity = ArgumentArity.ZeroOrMore };
        var factory = new Option<string?>("--factory") { Description = "the builds of one factory alone" };
        var output = CommonOptions.Out("folder for the outcome and its plates");
        var json = CommonOptions.Json();
        var command = new Command("trend", "Follows figures over builds: is a factory drifting, does it keep its limits, what is found most.") { folders, follow, factory, output, json };
        command.SetAction((parsed, cancellation) => Task.FromResult(Run(
            terminal,
            parsed.GetRequiredValue(folders),
            parsed.GetValue(follow) ?? [],
            parsed.GetValue(factory),
            CommonOptions.FolderOf(parsed, output),
            parsed.GetValue(json),
            cancellation)));
        return command;
    }

    private static int Run(Terminal terminal, string[] folders, string[] follow, string? factory, string? output, bool json, CancellationToken cancellation)
    {
        var catalogue = CatalogueFolder.Load(CatalogueFolder.Installed);
        var reviews = folders.Select((folder, i) => ExaminedFolder.Read(terminal, folder, string.Create(CultureInfo.InvariantCulture, $"review-{i + 1}"), catalogue, cancellation)).ToImmutableArray();
        var outcome = TrendExamination.Of(new TrendEvidence(reviews, [.. follow], factory), cancellation);
        return CommandOutput.Give(terminal, outcome, "trend.json", output, json);
    }
}
