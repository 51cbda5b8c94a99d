using NetVips;

namespace Pairbench.Imaging.Photographs;

/// <summary>
/// A picture file in memory. The header is read and checked when it is opened; pixels are decoded on demand.
/// </summary>
/// <remarks>Pictures are hostile input: the content decides what it is, and size, dimensions and time are bounded.</remarks>
public sealed class PhotoFile : IPhotograph
{
    /// <summary>Most pixels that a photograph may have.</summary>
    public const long MostPixels = 150_000_000;

    /// <summary>Longest side in pixels.</summary>
    public const int LongestSide = 30_000;

    /// <summary>Largest file in bytes.</summary>
    public const long MostBytes = 512L << 20;

    private static readonly TimeSpan MostTime = TimeSpan.FromSeconds(60);

    private static readonly Log.LogDelegate Quiet = (_, _, _) => { };

    private readonly byte[] _bytes;

    static PhotoFile()
    {
        Cache.Max = 0;
        NetVips.NetVips.BlockUntrusted = true;

        // What the decoder has to say of a hostile file reaches the caller as an exception, not standard error.
        foreach (var domain in new[] { "VIPS", "GLib-GObject" })
        {
            Log.SetLogHandler(domain, Enums.LogLevelFlags.Warning | Enums.LogLevelFlags.Critical, Quiet);
        }
    }

    private PhotoFile(string file, byte[] bytes, PhotoFormat format, PixelSize size, CameraFacts camera)
    {
        File = file;
        _bytes = bytes;
        Format = format;
        Size = size;
        Camera = camera;
    }

    public string File { get; }

    public PhotoFormat Format { get; }

    public PixelSize Size { get; }

    public CameraFacts Camera { get; }

    /// <summary>Reads and checks the header.</summary>
    /// <param name="file">The name to use in messages.</param>
    /// <param name="bytes">The whole file; not copied.</param>
    /// <exception cref="PhotoException">It is no picture that can be read, or it is too large.</exception>
    public static PhotoFile Open(string file, byte[] bytes)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        if (bytes.LongLength > MostBytes)
        {
            throw new PhotoException(file, $"has {bytes.LongLength >> 20} MiB", $"give a picture of at most {MostBytes >> 20} MiB");
        }

        if (PhotoFormats.Recognise(bytes) is not { } format)
        {
            throw new PhotoException(file, bytes.Length == 0 ? "is empty" : "is no picture by its content", "give a JPEG, PNG, WebP, TIFF or AVIF file");
        }

        if (format == PhotoFormat.Heic)
        {
            throw new PhotoException(file, "is a HEIC picture, which this decoder cannot read", "save it as JPEG: set the phone's camera to its most compatible format, or export it as JPEG from the phone's gallery");
        }

        try
        {
            using var header = Image.NewFromBuffer(bytes, failOn: Enums.FailOn.None);
            var stored = new PixelSize(header.Width, header.Height);
            if (stored.Count > MostPixels || Math.Max(stored.Width, stored.Height) > LongestSide)
            {
                throw new PhotoException(
                    file,
                    $"has {stored.Width} x {stored.Height} pixels ({stored.Count / 1e6:0} megapixels)",
                    $"give at most {MostPixels / 1_000_000} megapixels and {LongestSide} pixels a side");
            }

            var turned = header.Contains("orientation") && header.Get("orientation") is int and >= 5 and <= 8;
            var size = turned ? new PixelSize(stored.Height, stored.Width) : stored;
            return new PhotoFile(file, bytes, format, size, CameraReader.Read(bytes, size));
        }
        catch (VipsException e)
        {
            throw Damaged(file, e);
        }
    }

    public RgbImage Decode(int longestSide = int.MaxValue)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(longestSide, 1);
        return longestSide >= Math.Max(Size.Width, Size.Height)
            ? Pixels(() => Load(1), turn: true)
            : Pixels(() => Shrunk(longestSide), turn: false);
    }

    public RgbImage DecodePart(int left, int top, PixelSize size)
    {
        if (left < 0 || top < 0 || size.Width < 1 || size.Height < 1 || left > Size.Width - size.Width || top > Size.Height - size.Height)
        {
            throw new ArgumentOutOfRangeException(nameof(size), $"The part {left}, {top}, {size.Width} x {size.Height} does not lie in a picture of {Size.Width} x {Size.Height}.");
        }

        return Pixels(
            () =>
            {
                using var whole = Image.NewFromBuffer(_bytes, failOn: Enums.FailOn.Error);
                using var upright = whole.Autorot();
                return upright.Crop(left, top, size.Width, size.Height);
            },
            turn: false);
    }

    /// <param name="shrink">1, 2, 4 or 8: a JPEG is decoded at this fraction of its size, which costs less than shrinking it afterwards.</param>
    private Image Load(int shrink) => Image.NewFromBuffer(
        _bytes,
        access: Enums.Access.Sequential,
        failOn: Enums.FailOn.Error,
        kwargs: shrink > 1 ? new VOption { { "shrink", shrink } } : null);

    private Image Shrunk(int longestSide)
    {
        var shrink = 1;
        while (Format == PhotoFormat.Jpeg && shrink < 8 && Math.Max(Size.Width, Size.Height) / (shrink * 2) >= longestSide)
        {
            shrink *= 2;
        }

        using var loaded = Load(shrink);
        return loaded.ThumbnailImage(longestSide, height: longestSide, size: Enums.Size.Down, outputProfile: "srgb");
    }

    private RgbImage Pixels(Func<Image> load, bool turn)
    {
        try
        {
            using var timer = new CancellationTokenSource(MostTime);
            using var loaded = load();
            using var upright = turn ? loaded.Autorot() : loaded.Copy();
            using var colour = ToSrgb(upright);
            using var opaque = colour.HasAlpha() ? colour.Flatten(background: [255, 255, 255]) : colour.Copy();
            using var bytes = opaque.Cast(Enums.BandFormat.Uchar);
            bytes.SetProgress(new Progress<int>(), timer.Token);
            var size = new PixelSize(bytes.Width, bytes.Height);
            var pixels = bytes.WriteToMemory<byte>();
            return timer.IsCancellationRequested
                ? throw new PhotoException(File, $"takes more than {MostTime.TotalSeconds:0} s to decode", "give a picture of the usual kind")
                : new RgbImage(size, pixels);
        }
        catch (VipsException e)
        {
            throw Damaged(File, e);
        }
    }

    private static Image ToSrgb(Image image)
    {
        if (image.Contains("icc-profile-data") && image.Interpretation != Enums.Interpretation.Srgb)
        {
            return image.IccTransform("srgb", embedded: true);
        }

        if (image.Contains("icc-profile-data") && image.Bands >= 3)
        {
            return image.IccTransform("srgb", embedded: true);
        }

        return image.Colourspace(Enums.Interpretation.Srgb);
    }

    private static PhotoException Damaged(string file, VipsException e)
    {
        var line = e.Message.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).LastOrDefault() ?? "";
        return new PhotoException(file, line.Length == 0 ? "is damaged or cut short" : $"is damaged or cut short ({line})", "copy the picture again from the camera");
    }
}
