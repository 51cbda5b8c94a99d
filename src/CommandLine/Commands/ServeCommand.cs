using System.CommandLine;
using Pairbench.Bench;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>serve</c>: the bench in a browser.</summary>
internal static class ServeCommand
{
    public static Command Create(Terminal terminal)
    {
        var urls = new Option<string>("--urls") { Description = $"addresses to bind; {BenchOptions.DefaultUrls} if left out", DefaultValueFactory = _ => BenchOptions.DefaultUrls, HelpName = "URL" };
        var store = Store.Option();
        var command = new Command("serve", "Serves the bench to a browser on this machine.") { urls, store };
        command.SetAction((parsed, cancellation) => RunAsync(terminal, parsed.GetRequiredValue(urls), Store.Of(parsed.GetValue(store)), cancellation));
        return command;
    }

    internal static async Task<int> RunAsync(Terminal terminal, string urls, Store store, CancellationToken cancellation)
    {
        var shelf = await store.OpenAsync(cancellation);
        var options = new BenchOptions { Urls = urls, DataFolder = store.Folder, DemoFolder = DemoCommand.Installed };
        await BenchHost.RunAsync(options, shelf, cancellation, addresses => terminal.Error.WriteLine($"the bench is at {string.Join(" and ", addresses)} (end it with Ctrl+C); reviews are kept in {(store.PostgreSql.Length > 0 ? "PostgreSQL" : store.Folder)}"));
        return ExitCode.Done;
    }
}
