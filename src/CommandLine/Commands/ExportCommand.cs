using System.CommandLine;
using Pairbench.Footwear;
using Pairbench.Storage;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>export REVIEW FOLDER|FILE.zip</c>: a review from the shelf as a folder or archive.</summary>
internal static class ExportCommand
{
    public static Command Create(Terminal terminal)
    {
        var id = new Argument<string>("REVIEW") { Description = "id of a review on the shelf" };
        var to = new Argument<string>("FOLDER|FILE.zip") { Description = "a new or empty folder, or a file that ends in .zip" };
        var sending = new Option<bool>("--for-sending") { Description = "write pictures anew without tags of camera, place or person" };
        var command = new Command("export", "Writes a review from the shelf as a folder or archive.") { id, to, sending };
        var store = StoreOptions.AddedTo(command);
        command.SetAction(async (parsed, cancellation) =>
        {
            var path = parsed.GetRequiredValue(to);
            var isArchive = path.EndsWith(".zip", StringComparison.OrdinalIgnoreCase);
            if ((isArchive ? WhyNoArchive(path) : OutputFolder.WhyNot(path)) is { } why)
            {
                throw new FaultsException(new Fault(path, why, "name a folder that is new or empty, or a new .zip in a folder that is there"));
            }

            var shelf = await store.Of(parsed).OpenExistingAsync(cancellation);
            if (isArchive)
            {
                await WriteZip(shelf, parsed.GetRequiredValue(id), path, parsed.GetValue(sending), cancellation);
            }
            else
            {
                await ReviewFolder.ExportFolderAsync(shelf, parsed.GetRequiredValue(id), path, parsed.GetValue(sending), cancellation);
            }

            await terminal.Error.WriteLineAsync($"written to {path}");
            return ExitCode.Done;
        });
        return command;
    }

    private static string? WhyNoArchive(string path) => File.Exists(path) || Directory.Exists(path) ? "is already there"
        : Path.GetDirectoryName(Path.GetFullPath(path)) is not { } folder || !Directory.Exists(folder) ? "lies in a folder that is not there"
        : OutputFolder.WhyNot(folder);

    private static async Task WriteZip(IReviewShelf shelf, string id, string path, bool forSending, CancellationToken cancellation)
    {
        var temporary = $"{path}.{Guid.NewGuid():n}.part";
        try
        {
            await using (var archive = File.Create(temporary))
            {
                await ReviewFolder.ExportZipAsync(shelf, id, archive, forSending, cancellation);
            }

            File.Move(temporary, path);
        }
        finally
        {
            File.Delete(temporary);
        }
    }
}
