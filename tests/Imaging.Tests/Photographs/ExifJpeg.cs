using System.Buffers.Binary;
using NetVips;

namespace Pairbench.Imaging.Tests.Photographs;

/// <summary>A plain JPEG with an EXIF block written by hand (CIPA DC-008: a TIFF structure in an APP1 segment).</summary>
internal static class ExifJpeg
{
    public const ushort FocalLength = 0x920A;
    public const ushort PixelXDimension = 0xA002;
    public const ushort PixelYDimension = 0xA003;
    public const ushort FocalPlaneXResolution = 0xA20E;
    public const ushort FocalPlaneResolutionUnit = 0xA210;
    public const ushort DigitalZoomRatio = 0xA404;
    public const ushort FocalLengthIn35MmFilm = 0xA405;

    /// <param name="tags">Tag, numerator, denominator; a denominator of -1 makes it a whole number.</param>
    public static byte[] Of(int width, int height, params (ushort Tag, int Value, int Per)[] tags) => WithBlock(width, height, Block(tags));

    public static byte[] WithBlock(int width, int height, byte[] block)
    {
        using var black = Image.Black(width, height, bands: 3);
        var jpeg = black.JpegsaveBuffer(keep: Enums.ForeignKeep.None);
        byte[] content = [.. "Exif\0\0"u8, .. block];
        var length = new byte[2];
        BinaryPrimitives.WriteUInt16BigEndian(length, (ushort)(content.Length + 2));
        return [.. jpeg[..2], 0xFF, 0xE1, .. length, .. content, .. jpeg[2..]];
    }

    private static byte[] Block((ushort Tag, int Value, int Per)[] tags)
    {
        const int sub = 26;
        var values = sub + 2 + (12 * tags.Length) + 4;
        var block = new byte[values + (8 * tags.Length)];
        "II*\0"u8.CopyTo(block);
        BinaryPrimitives.WriteInt32LittleEndian(block.AsSpan(4), 8);
        BinaryPrimitives.WriteInt16LittleEndian(block.AsSpan(8), 1);
        Entry(block.AsSpan(10), 0x8769, 4, sub);
        BinaryPrimitives.WriteInt16LittleEndian(block.AsSpan(sub), (short)tags.Length);
        var at = sub + 2;
        foreach (var (tag, value, per) in tags.OrderBy(t => t.Tag))
        {
            Entry(block.AsSpan(at), tag, (short)(per < 0 ? 4 : 5), per < 0 ? value : values);
            BinaryPrimitives.WriteInt32LittleEndian(block.AsSpan(values), value);
            BinaryPrimitives.WriteInt32LittleEndian(block.AsSpan(values + 4), per);
            (at, values) = (at + 12, values + 8);
        }

        return block;
    }

    private static void Entry(Span<byte> to, ushort tag, short type, int value)
    {
        BinaryPrimitives.WriteUInt16LittleEndian(to, tag);
        BinaryPrimitives.WriteInt16LittleEndian(to[2..], type);
        BinaryPrimitives.WriteInt32LittleEndian(to[4..], 1);
        BinaryPrimitives.WriteInt32LittleEndian(to[8..], value);
    }
}
