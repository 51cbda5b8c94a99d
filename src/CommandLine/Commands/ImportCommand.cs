using System.CommandLine;
using Pairbench.Footwear;
using Pairbench.Storage;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>import FOLDER|FILE.zip</c>: a review folder or archive onto the shelf.</summary>
internal static class ImportCommand
{
    public static Command Create(Terminal terminal)
    {
        var from = new Argument<string>("FOLDER|FILE.zip") { Description = $"a folder with {Review.FileName} and its photographs, or the same as a .zip" };
        var command = new Command("import", "Puts a review folder or archive on the shelf.") { from };
        var store = StoreOptions.AddedTo(command);
        command.SetAction(async (parsed, cancellation) =>
        {
            var path = parsed.GetRequiredValue(from);
            if (!Directory.Exists(path) && !File.Exists(path))
            {
                throw new FaultsException(new Fault(path, "is not there", "name a review folder or a .zip"));
            }

            var shelf = await store.Of(parsed).OpenAsync(cancellation);
            StoredReview review;
            if (Directory.Exists(path))
            {
                review = await ReviewFolder.ImportFolderAsync(shelf, path, cancellation);
            }
            else
            {
                // A pipe or a device has no length, and opening it need not end.
                await using var archive = new FileInfo(path).Length == 0 ? Stream.Null : File.OpenRead(path);
                review = await ReviewFolder.ImportZipAsync(shelf, archive, Path.GetFileName(path), cancellation);
            }

            // An export of a review that is still being filled in comes back as it was; what is to be mended there is told and not passed over.
            foreach (var fault in ReviewRun.Read(review.Document).Faults)
            {
                await terminal.Error.WriteLineAsync($"taken in, to be put right: {fault}");
            }

            await terminal.Out.WriteLineAsync(review.Id);
            return ExitCode.Done;
        });
        return command;
    }
}
