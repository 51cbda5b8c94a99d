using Pairbench.Footwear;
using Pairbench.Footwear.Change;
using Pairbench.Imaging.Photographs;

namespace Pairbench.CommandLine.Commands;

/// <summary>A review folder, examined so that it can be set beside others.</summary>
internal static class ExaminedFolder
{
    /// <param name="name">What tells its own causes from those of the other reviews.</param>
    /// <exception cref="FaultsException">Its review cannot be read or examined; each fault names the folder.</exception>
    public static ReviewOutcomes Read(Terminal terminal, string folder, string name, Catalogue catalogue, CancellationToken cancellation)
    {
        terminal.Error.WriteLine($"examining {folder}");
        try
        {
            var review = ReviewRun.Read(InputFile.Review(folder));
            return ReviewComparison.Of(review, ReviewRun.Examine(review, new FolderPhotoSource(folder), catalogue, null, cancellation), name);
        }
        catch (FaultsException e)
        {
            throw new FaultsException(e.Faults.Select(f => f.Where.StartsWith(folder, StringComparison.Ordinal) ? f : f with { Where = $"{folder}: {f.Where}" }));
        }
    }
}
