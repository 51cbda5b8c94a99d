using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;
using NetVips;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Imaging.Tests.Photographs;

/// <summary>Photographs are hostile input: whatever comes, it is a picture or a <see cref="PhotoException"/>.</summary>
public sealed class PhotoFileTests
{
    public static TheoryData<string> Formats => [".jpg", ".png", ".webp", ".tif", ".tif[compression=jpeg]", ".avif"];

    [Theory]
    [MemberData(nameof(Formats))]
    public void EveryFormatIsKnownByItsContent(string suffix)
    {
        var photo = PhotoFile.Open("picture.anything", Encoded(suffix, 64, 48));

        Assert.Equal(new PixelSize(64, 48), photo.Size);
        var pixels = photo.Decode();
        Assert.Equal(photo.Size, pixels.Size);
        Assert.InRange(pixels.Row(5)[0], 180, 220);
        Assert.InRange(pixels.Row(5)[1], 60, 100);
    }

    [Theory]
    [MemberData(nameof(Formats))]
    public void APictureCutShortIsRefusedAndNeverHalfRead(string suffix)
    {
        var whole = Encoded(suffix, 640, 480);
        foreach (var length in new[] { 0, 1, 3, 8, 12, 20, 50, whole.Length / 4, whole.Length / 2, whole.Length * 3 / 4 })
        {
            Assert.Throws<PhotoException>(() => PhotoFile.Open("cut", whole[..length]).Decode());
            Assert.Throws<PhotoException>(() => PhotoFile.Open("cut", whole[..length]).Decode(100));
        }
    }

    [Fact]
    public void ATextIsNoPictureWhateverItsName()
    {
        var refusal = Assert.Throws<PhotoException>(() => PhotoFile.Open("sole.jpg", "not a picture"u8.ToArray()));

        Assert.Equal("sole.jpg", refusal.File);
    }

    [Theory]
    [InlineData(20_000, 15_000)]
    [InlineData(40_000, 10)]
    public void APictureThatIsTooLargeIsRefusedByItsHeader(int width, int height)
    {
        var refusal = Assert.Throws<PhotoException>(() => PhotoFile.Open("large.png", PngClaiming(width, height)));

        Assert.Contains($"{width} x {height}", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void AHeaderThatPromisesMoreThanTheFileHoldsIsRefused() =>
        Assert.Throws<PhotoException>(() => PhotoFile.Open("bomb.png", PngClaiming(12_000, 12_000)).Decode(800));

    [Fact]
    public void AHeicPictureIsRefusedInOneLineThatSaysHowToGetAJpeg()
    {
        byte[] heic = [0, 0, 0, 24, .. "ftypheic"u8, 0, 0, 0, 0, .. "mif1heic"u8];

        Assert.Contains("JPEG", Assert.Throws<PhotoException>(() => PhotoFile.Open("a.heic", heic)).WouldBeRight, StringComparison.Ordinal);
    }

    [Fact]
    public void TheOrientationTagIsApplied()
    {
        using var image = Plain(60, 40).Mutate(m => m.Set(GValue.GIntType, "orientation", 6));
        var photo = PhotoFile.Open("turned.jpg", image.JpegsaveBuffer());

        Assert.Equal(new PixelSize(40, 60), photo.Size);
        Assert.Equal(new PixelSize(40, 60), photo.Decode().Size);
        Assert.Equal(new PixelSize(20, 30), photo.Decode(30).Size);
    }

    [Fact]
    public void RandomBytesBehindATrueBeginningNeverDoMoreThanBeRefused()
    {
        var random = new Random(5);
        foreach (var suffix in new[] { ".jpg", ".png", ".webp", ".tif", ".avif" })
        {
            var whole = Encoded(suffix, 120, 90);
            for (var trial = 0; trial < 60; trial++)
            {
                var damaged = (byte[])whole.Clone();
                for (var hit = 0; hit < 8; hit++)
                {
                    damaged[random.Next(4, damaged.Length)] = (byte)random.Next(256);
                }

                try
                {
                    var size = PhotoFile.Open("damaged", damaged).Decode(200).Size;
                    Assert.InRange(Math.Max(size.Width, size.Height), 1, 200);
                }
                catch (PhotoException e)
                {
                    Assert.NotEmpty(e.Message);
                }
            }
        }
    }

    [Fact]
    public void APartIsThePartOfTheWhole()
    {
        var photo = PhotoFile.Open("a.png", Encoded(".png", 64, 48));

        Assert.Equal(new PixelSize(10, 5), photo.DecodePart(54, 43, new PixelSize(10, 5)).Size);
        Assert.Throws<ArgumentOutOfRangeException>(() => photo.DecodePart(55, 43, new PixelSize(10, 5)));
    }

    [Fact]
    public void WhatIsWrittenCarriesNoTags()
    {
        using var image = Plain(60, 40).Mutate(m =>
        {
            m.Set(GValue.GStrType, "exif-ifd0-Make", "invented maker");
            m.Set(GValue.GStrType, "exif-ifd3-GPSLatitude", "1/1 2/1 3/1");
        });
        var tagged = image.JpegsaveBuffer();
        Assert.Contains("invented maker", Encoding.Latin1.GetString(tagged), StringComparison.Ordinal);

        var sent = PictureWriter.Jpeg(PhotoFile.Open("a.jpg", tagged).Decode());

        Assert.DoesNotContain("invented maker", Encoding.Latin1.GetString(sent), StringComparison.Ordinal);
        Assert.DoesNotContain("Exif", Encoding.Latin1.GetString(sent), StringComparison.Ordinal);
    }

    [Fact]
    public void ALabelMapIsWrittenLevelByLevel()
    {
        var map = new LabelMap(new PixelSize(3, 2), [0, 1, 2, 3, 4, 255]);
        using var read = Image.NewFromBuffer(PictureWriter.Png(map));

        Assert.Equal(1, read.Bands);
        Assert.Equal([0, 1, 2, 3, 4, 255], read.WriteToMemory<byte>());
    }

    private static Image Plain(int width, int height) => ((Image.Black(width, height, bands: 3) + new double[] { 200, 80, 40 }).Cast(Enums.BandFormat.Uchar)).Copy(interpretation: Enums.Interpretation.Srgb);

    private static byte[] Encoded(string suffix, int width, int height)
    {
        // A little texture, so that files cut short are cut within the pixels.
        using var noise = Image.Gaussnoise(width, height, mean: 0, sigma: 4, seed: 3);
        using var image = (Plain(width, height) + noise).Cast(Enums.BandFormat.Uchar).Copy(interpretation: Enums.Interpretation.Srgb);
        return image.WriteToBuffer(suffix);
    }

    private static byte[] PngClaiming(int width, int height)
    {
        using var file = new MemoryStream();
        file.Write([0x89, (byte)'P', (byte)'N', (byte)'G', 0x0D, 0x0A, 0x1A, 0x0A]);
        var header = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(header, width);
        BinaryPrimitives.WriteInt32BigEndian(header.AsSpan(4), height);
        (header[8], header[9]) = (8, 2);
        Chunk(file, "IHDR", header);
        using var data = new MemoryStream();
        using (var zlib = new ZLibStream(data, CompressionLevel.Fastest, leaveOpen: true))
        {
            zlib.Write(new byte[1000]);
        }

        Chunk(file, "IDAT", data.ToArray());
        Chunk(file, "IEND", []);
        return file.ToArray();
    }

    private static void Chunk(MemoryStream file, string name, byte[] content)
    {
        byte[] body = [.. Encoding.ASCII.GetBytes(name), .. content];
        Span<byte> word = stackalloc byte[4];
        BinaryPrimitives.WriteInt32BigEndian(word, content.Length);
        file.Write(word);
        file.Write(body);
        BinaryPrimitives.WriteUInt32BigEndian(word, Crc(body));
        file.Write(word);
    }

    private static uint Crc(byte[] bytes)
    {
        var crc = 0xFFFFFFFFu;
        foreach (var b in bytes)
        {
            crc ^= b;
            for (var bit = 0; bit < 8; bit++)
            {
                crc = (crc & 1) != 0 ? (crc >> 1) ^ 0xEDB88320u : crc >> 1;
            }
        }

        return ~crc;
    }
}
