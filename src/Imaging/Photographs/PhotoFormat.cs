using System.Buffers.Binary;

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
    /// <summary>The format of a file that begins with these bytes (up to 256 are looked at); null where it is none that is known.</summary>
    public static PhotoFormat? Recognise(ReadOnlySpan<byte> start) => start switch
    {
        [0xFF, 0xD8, 0xFF, ..] => PhotoFormat.Jpeg,
        [0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A, ..] => PhotoFormat.Png,
        [(byte)'R', (byte)'I', (byte)'F', (byte)'F', _, _, _, _, (byte)'W', (byte)'E', (byte)'B', (byte)'P', ..] => PhotoFormat.WebP,
        [(byte)'I', (byte)'I', 42 or 43, 0, ..] or [(byte)'M', (byte)'M', 0, 42 or 43, ..] => PhotoFormat.Tiff,
        [_, _, _, _, (byte)'f', (byte)'t', (byte)'y', (byte)'p', ..] when start.Length >= 16 => Brand(start),
        _ => null,
    };

    /// <summary>The first brand that is known, major before compatible ones (ISO/IEC 14496-12, 4.3; 23008-12, 10; the brands from memory).</summary>
    private static PhotoFormat? Brand(ReadOnlySpan<byte> start)
    {
        var end = (int)Math.Min(BinaryPrimitives.ReadUInt32BigEndian(start), (uint)Math.Min(start.Length, 256));
        for (var at = 8; at + 4 <= end; at += at == 8 ? 8 : 4)
        {
            var brand = start.Slice(at, 4);
            if (brand.SequenceEqual("avif"u8))
            {
                return PhotoFormat.Avif;
            }

            if (brand.SequenceEqual("heic"u8) || brand.SequenceEqual("heix"u8) || brand.SequenceEqual("heim"u8) || brand.SequenceEqual("heis"u8) || brand.SequenceEqual("hevc"u8))
            {
                return PhotoFormat.Heic;
            }
        }

        return null;
    }
}
