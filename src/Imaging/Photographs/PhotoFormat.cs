namespace Pairbench.Imaging.Photographs;

/// <summary>Kinds of picture files, told by their first bytes and never by their name.</summary>
public enum PhotoFormat
{
    Jpeg,
    Png,
    WebP,
    Tiff,
    Avif,
    Heic,
}

/// <summary>Recognises picture files by content.</summary>
public static class PhotoFormats
{
    /// <summary>The format of a file that begins with these bytes (at least 16 are looked at); null where it is none that is known.</summary>
    public static PhotoFormat? Recognise(ReadOnlySpan<byte> start) => start switch
    {
        [0xFF, 0xD8, 0xFF, ..] => PhotoFormat.Jpeg,
        [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A, ..] => PhotoFormat.Png,
        [(byte)'R', (byte)'I', (byte)'F', (byte)'F', _, _, _, _, (byte)'W', (byte)'E', (byte)'B', (byte)'P', ..] => PhotoFormat.WebP,
        [(byte)'I', (byte)'I', 42, 0, ..] or [(byte)'M', (byte)'M', 0, 42, ..] => PhotoFormat.Tiff,
        [_, _, _, _, (byte)'f', (byte)'t', (byte)'y', (byte)'p', ..] when start.Length >= 12 => Brand(start[8..12]),
        _ => null,
    };

    private static PhotoFormat? Brand(ReadOnlySpan<byte> brand) =>
        brand.SequenceEqual("avif"u8) ? PhotoFormat.Avif
        : brand.SequenceEqual("heic"u8) || brand.SequenceEqual("heix"u8) || brand.SequenceEqual("mif1"u8) || brand.SequenceEqual("hevc"u8) ? PhotoFormat.Heic
        : null;
}
