using Pairbench.Bench.Sheets;
using Pairbench.Imaging;

namespace Pairbench.Bench.Board;

/// <summary>Where pages find the pictures of a review.</summary>
public static class PhotoPlace
{
    /// <summary>Address of the previews of a photograph; null where it is not with the review.</summary>
    public static string? Url(ReviewSheet sheet, string file)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        return sheet.File(file) is { } stored ? $"/photos/{stored.Hash}" : null;
    }

    /// <summary>The photograph for the board; null where it is not with the review or cannot be read.</summary>
    public static BoardPhoto? Board(ReviewSheet sheet, string file)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        try
        {
            return Url(sheet, file) is { } url && sheet.Photo(file).Size is var size ? new BoardPhoto(url, size.Width, size.Height, file) : null;
        }
        catch (PhotoException)
        {
            return null;
        }
    }
}
