using System.CommandLine;
using Pairbench.Footwear;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>demo</c>: the invented review examined and reported.</summary>
internal static class DemoCommand
{
    /// <summary>The folder of the demo reviews that is installed beside the program.</summary>
    public static string Installed => Path.Combine(AppContext.BaseDirectory, "demo");

    private const string Usual = "pairbench-demo";

    public static Command Create(Terminal terminal)
    {
        var output = CommonOptions.Out($"folder for the reports; {Usual} if left out");
        var command = new Command("demo", "Examines the two invented reviews and writes their reports.") { output };
        command.SetAction((parsed, cancellation) => Task.FromResult(Run(terminal, CommonOptions.FolderOf(parsed, output, Usual), cancellation)));
        return command;
    }

    /// <summary>The demo before the bench is served: where its reports cannot be written that is told, and the bench is served all the same.</summary>
    internal static void RunBefore(Terminal terminal, string output = Usual, CancellationToken cancellation = default)
    {
        if (OutputFolder.WhyNot(output) is { } why)
        {
            terminal.Error.WriteLine($"the demo is left out: {output} {why}; see it with pairbench demo --out DIR");
            return;
        }

        Run(terminal, output, cancellation);
    }

    /// <exception cref="FaultsException">The demo is not installed.</exception>
    private static int Run(Terminal terminal, string output, CancellationToken cancellation)
    {
        var reviews = Directory.Exists(Installed)
            ? Directory.EnumerateDirectories(Installed).Where(d => File.Exists(Path.Combine(d, Review.FileName))).Order(StringComparer.Ordinal).ToList()
            : [];
        if (reviews.Count == 0)
        {
            throw new FaultsException(new Fault(Installed, "holds no demo review", "install the demo folder beside the program"));
        }

        foreach (var review in reviews)
        {
            terminal.Out.WriteLine($"=== {Path.GetFileName(review)} (invented)");
            ExamineCommand.Run(terminal, review, Path.Combine(output, Path.GetFileName(review)), language: null, json: false, cancellation);
            terminal.Out.WriteLine();
        }

        return ExitCode.Done;
    }
}
