using MetadataExtractor;
using MetadataExtractor.Formats.Exif;
using Pairbench.Measuring;

namespace Pairbench.Imaging.Photographs;

/// <summary>The focal length in pixels from EXIF tags (CIPA DC-008), where the picture has neither been resized nor cropped since.</summary>
internal static class CameraReader
{
    private const double FrameDiagonalMm = 43.2666;

    private const int TagDigitalZoomRatio = 0xA404;

    public static CameraFacts Read(byte[] bytes, PixelSize size)
    {
        try
        {
            using var stream = new MemoryStream(bytes, writable: false);
            var exif = ImageMetadataReader.ReadMetadata(stream).OfType<ExifSubIfdDirectory>().FirstOrDefault();
            return exif is null ? CameraFacts.Unknown : Of(exif, size);
        }
        catch (Exception e) when (e is ImageProcessingException or IOException or MetadataException or ArgumentException or ArithmeticException or IndexOutOfRangeException or InvalidCastException or FormatException or InvalidOperationException)
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

        if (exif.TryGetDouble(TagDigitalZoomRatio, out var zoom) && zoom > 1.01)
        {
            // Enlarged by the camera: what the lens did no longer tells what a pixel is.
            return CameraFacts.Unknown;
        }

        double? byEquivalent = exif.TryGetDouble(ExifDirectoryBase.Tag35MMFilmEquivFocalLength, out var equivalent) && equivalent > 0
            ? equivalent * double.Hypot(size.Width, size.Height) / FrameDiagonalMm
            : null;
        if (exif.TryGetDouble(ExifDirectoryBase.TagFocalLength, out var focalMm)
            && exif.TryGetDouble(ExifDirectoryBase.TagFocalPlaneXResolution, out var resolution)
            && focalMm > 0 && resolution > 0)
        {
            var unitMm = exif.TryGetInt32(ExifDirectoryBase.TagFocalPlaneResolutionUnit, out var unit) && unit == 3 ? 10.0 : 25.4;
            var bySensor = focalMm * resolution / unitMm;
            return byEquivalent is { } other && Math.Abs((other / bySensor) - 1) > 0.1
                ? CameraFacts.Unknown
                : Facts(bySensor, 0.02, size, "from the focal length and sensor resolution in the file");
        }

        return byEquivalent is { } focalPx ? Facts(focalPx, 0.02, size, "from the 35 mm equivalent in the file, by the diagonal") : CameraFacts.Unknown;
    }

    private static CameraFacts Facts(double focalPx, double relative, PixelSize size, string words)
    {
        var longest = Math.Max(size.Width, size.Height);
        return focalPx > 0.3 * longest && focalPx < 30.0 * longest
            ? new CameraFacts(Measured.Of(focalPx, "", "focal-length", relative * focalPx), words)
            : CameraFacts.Unknown;
    }
}
