using System.Runtime.CompilerServices;
using NetVips;

namespace Pairbench.Imaging.Photographs;

/// <summary>Pictures to file bytes, without any tag of camera, place or person.</summary>
public static class PictureWriter
{
    static PictureWriter() => RuntimeHelpers.RunClassConstructor(typeof(PhotoFile).TypeHandle);

    /// <summary>An 8-bit grey PNG with one level for each label.</summary>
    public static byte[] Png(LabelMap map)
    {
        ArgumentNullException.ThrowIfNull(map);
        using var image = Image.NewFromMemory(map.Bytes, map.Size.Width, map.Size.Height, 1, Enums.BandFormat.Uchar);
        using var grey = image.Copy(interpretation: Enums.Interpretation.Bw);
        return grey.PngsaveBuffer(compression: 3, keep: Enums.ForeignKeep.None);
    }

    /// <summary>An sRGB PNG.</summary>
    public static byte[] Png(RgbImage picture)
    {
        using var image = Srgb(picture);
        return image.PngsaveBuffer(compression: 6, keep: Enums.ForeignKeep.None);
    }

    /// <summary>An sRGB JPEG.</summary>
    /// <param name="quality">1 to 100.</param>
    public static byte[] Jpeg(RgbImage picture, int quality = 85)
    {
        using var image = Srgb(picture);
        return image.JpegsaveBuffer(q: quality, keep: Enums.ForeignKeep.None);
    }

    /// <summary>An sRGB WebP, smaller than a JPEG of the same quality.</summary>
    /// <param name="quality">1 to 100.</param>
    public static byte[] WebP(RgbImage picture, int quality = 80)
    {
        using var image = Srgb(picture);
        return image.WebpsaveBuffer(q: quality, keep: Enums.ForeignKeep.None);
    }

    private static Image Srgb(RgbImage picture)
    {
        ArgumentNullException.ThrowIfNull(picture);
        using var image = Image.NewFromMemory(picture.Bytes, picture.Width, picture.Height, 3, Enums.BandFormat.Uchar);
        return image.Copy(interpretation: Enums.Interpretation.Srgb);
    }
}
