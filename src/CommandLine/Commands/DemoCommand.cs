using System.CommandLine;
using Pairbench.Footwear;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>demo</c>: the invented review examined and reported.</summary>
internal static class DemoCommand
{
    /// <summary>The folder of the demo reviews that is installed beside the program.</summary>
    public static string Installed => Path.Combine(AppContext.BaseDirectory, "demo");

    public static Command Create(Terminal terminal)
    {
        var output = CommonOptions.Out("folder for the reports; pairbench-demo if left out");
        var command = new Command("demo", "Examines the two invented reviews and writes their reports.") { output };
        command.SetAction((parsed, cancellation) => Task.FromResult(Run(terminal, CommonOptions.FolderOf(parsed, output) ?? "pairbench-demo", cancellation)));
        return command;
    }

    /// <exception cref="FaultsException">The demo is not installed.</exception>
    internal static int Run(Terminal terminal, string output, CancellationToken cancellation)
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
