using Pairbench.Bench;
using Pairbench.Storage;

// Serves the bench in a process of its own, so that a test can kill it: data folder, addresses, optional demo folder.
var folder = args[0];
var shelf = await ReviewShelf.OpenFolderAsync(folder);
var options = new BenchOptions { DataFolder = folder, Urls = args[1], DemoFolder = args.Length > 2 ? args[2] : "" };
await BenchHost.RunAsync(options, shelf, CancellationToken.None, urls =>
{
    foreach (var url in urls)
    {
        Console.WriteLine(url);
    }
});
