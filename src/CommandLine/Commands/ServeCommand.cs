using System.Collections.Immutable;
using System.CommandLine;
using Pairbench.Bench;
using Pairbench.Bench.Hosting;
using Pairbench.Footwear;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>serve</c>: the bench in a browser.</summary>
internal static class ServeCommand
{
    public static Command Create(Terminal terminal)
    {
        var urls = new Option<string>("--urls") { Description = $"addresses to bind; {BenchOptions.DefaultUrls} if left out", DefaultValueFactory = _ => BenchOptions.DefaultUrls, HelpName = "URL" };
        var watch = new Option<string?>("--watch") { Description = "a folder whose new pictures are offered to the open review, such as the one that a camera writes to", HelpName = "DIR" };
        var name = new Option<string?>("--name") { Description = "the name that browsers know the bench by, where a server on this machine stands before it (one that speaks https, say)", HelpName = "HOST" };
        var command = new Command("serve", "Serves the bench to a browser on this machine.") { urls, watch, name };
        var store = StoreOptions.AddedTo(command);
        command.SetAction((parsed, cancellation) => RunAsync(terminal, parsed.GetRequiredValue(urls), store.Of(parsed), cancellation, parsed.GetValue(watch) ?? "", parsed.GetValue(name) ?? ""));
        return command;
    }

    internal static async Task<int> RunAsync(Terminal terminal, string urls, Store store, CancellationToken cancellation, string watch = "", string name = "")
    {
        if (watch.Length > 0 && !Directory.Exists(watch))
        {
            throw new FaultsException(new Fault("--watch", $"is '{watch}', and there is no such folder", "make it, or name the folder that the camera writes to"));
        }

        ImmutableArray<Fault> faults = [.. ServedAddresses.Faults("--urls", urls), .. ServedAddresses.FaultsOfName("--name", name)];
        if (!faults.IsEmpty)
        {
            throw new FaultsException(faults);
        }

        var shelf = await store.OpenAsync(cancellation);
        var options = new BenchOptions { Urls = urls, Name = name, DataFolder = store.Folder, DemoFolder = DemoCommand.Installed, WatchedFolder = watch.Length > 0 ? Path.GetFullPath(watch) : "" };
        var listening = false;
        try
        {
            await BenchHost.RunAsync(options, shelf, cancellation, addresses =>
            {
                listening = true;
                terminal.Error.WriteLine($"the bench is at {string.Join(" and ", addresses)} (end it with Ctrl+C); reviews are kept in {store.Words}");
            });
        }
        catch (InvalidOperationException e) when (!listening && urls.Contains("https://", StringComparison.OrdinalIgnoreCase))
        {
            throw new FaultsException(new Fault("--urls", $"asks for https, which cannot be served: {e.Message.Split('\n')[0].TrimEnd('\r', '.')}", "give the server a certificate, or serve http behind a server that has one, and give --name the name that browsers know it by"));
        }

        return ExitCode.Done;
    }
}
