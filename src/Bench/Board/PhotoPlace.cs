using Pairbench.Bench.Sheets;

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

    /// <summary>The photograph for the board; null where it is on its way from the store, not with the review, or cannot be read.</summary>
    public static BoardPhoto? Board(ReviewSheet sheet, string file) =>
        Url(sheet, file) is { } url && sheet.SizeOf(file) is { IsCompletedSuccessfully: true, Result: { } size } ? new BoardPhoto(url, size.Width, size.Height, file) : null;

    /// <summary>Whether the photograph is on its way from the store: the sheet says when it has changed.</summary>
    public static bool IsComing(ReviewSheet sheet, string file)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        return !sheet.SizeOf(file).IsCompleted;
    }
}
