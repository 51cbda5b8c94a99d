using MetadataExtractor;
using MetadataExtractor.Formats.Exif;
using Pairbench.Measuring;

namespace Pairbench.Imaging.Photographs;

/// <summary>The focal length in pixels from EXIF tags (CIPA DC-008), where the picture has neither been resized nor cropped since.</summary>
internal static class CameraReader
{
    private const double FrameDiagonalMm = 43.2666;

    public static CameraFacts Read(byte[] bytes, PixelSize size)
    {
        try
        {
            using var stream = new MemoryStream(bytes, writable: false);
            var exif = ImageMetadataReader.ReadMetadata(stream).OfType<ExifSubIfdDirectory>().FirstOrDefault();
            return exif is null ? CameraFacts.Unknown : Of(exif, size);
        }
        catch (Exception e) when (e is ImageProcessingException or IOException or MetadataException or ArgumentException or OverflowException or IndexOutOfRangeException)
        {
            return CameraFacts.Unknown;
        }
    }

    private static CameraFacts Of(ExifSubIfdDirectory exif, PixelSize size)
    {
        if (!exif.TryGetInt32(ExifDirectoryBase.TagExifImageWidth, out var width)
            || !exif.TryGetInt32(ExifDirectoryBase.TagExifImageHeight, out var height)
            || Math.Max(width, height) != Math.Max(size.Width, size.Height)
            || Math.Min(width, height) != Math.Min(size.Width, size.Height))
        {
            return CameraFacts.Unknown;
        }

        if (exif.TryGetDouble(ExifDirectoryBase.TagFocalLength, out var focalMm)
            && exif.TryGetDouble(ExifDirectoryBase.TagFocalPlaneXResolution, out var resolution)
            && focalMm > 0 && resolution > 0)
        {
            var unitMm = exif.TryGetInt32(ExifDirectoryBase.TagFocalPlaneResolutionUnit, out var unit) && unit == 3 ? 10.0 : 25.4;
            return Facts(focalMm * resolution / unitMm, 0.02, size, "from the focal length and sensor resolution in the file");
        }

        return exif.TryGetDouble(ExifDirectoryBase.Tag35MMFilmEquivFocalLength, out var equivalent) && equivalent > 0
            ? Facts(equivalent * double.Hypot(size.Width, size.Height) / FrameDiagonalMm, 0.02, size, "from the 35 mm equivalent in the file, by the diagonal")
            : CameraFacts.Unknown;
    }

    private static CameraFacts Facts(double focalPx, double relative, PixelSize size, string words)
    {
        var longest = Math.Max(size.Width, size.Height);
        return focalPx > 0.3 * longest && focalPx < 30.0 * longest
            ? new CameraFacts(Measured.Of(focalPx, "", "focal-length", relative * focalPx), words)
            : CameraFacts.Unknown;
    }
}
