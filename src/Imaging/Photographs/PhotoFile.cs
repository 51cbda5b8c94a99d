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

    private const string Profile = "icc-profile-data";

    private static readonly TimeSpan MostTime = TimeSpan.FromSeconds(60);

    private static readonly Log.LogDelegate Quiet = (_, _, _) => { };

    private readonly byte[] _bytes;
    private readonly TimeSpan _mostTime;
    private readonly bool _profileFits;

    static PhotoFile()
    {
        // No operation is asked for twice, and what is kept would be whole pictures; each thread has buffers of its own.
        Cache.Max = 0;
        NetVips.NetVips.Concurrency = Math.Min(4, Environment.ProcessorCount);
        NetVips.NetVips.BlockUntrusted = true;

        // What the decoder has to say of a hostile file reaches the caller as an exception, not standard error.
        foreach (var domain in new[] { "VIPS", "GLib-GObject" })
        {
            Log.SetLogHandler(domain, Enums.LogLevelFlags.Warning | Enums.LogLevelFlags.Critical, Quiet);
        }
    }

    private PhotoFile(string file, byte[] bytes, TimeSpan mostTime, PhotoFormat format, PixelSize size, CameraFacts camera, bool profileFits)
    {
        File = file;
        _bytes = bytes;
        _mostTime = mostTime;
        _profileFits = profileFits;
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
    /// <param name="mostTime">Longest time that decoding may take; a minute where it is left out.</param>
    /// <exception cref="PhotoException">It is no picture that can be read, it is too large, or it holds more than one.</exception>
    public static PhotoFile Open(string file, byte[] bytes, TimeSpan? mostTime = null)
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

            if (format is PhotoFormat.Tiff or PhotoFormat.WebP && header.Contains("n-pages") && header.Get("n-pages") is int and > 1)
            {
                throw new PhotoException(file, $"holds {header.Get("n-pages")} pictures", "save the one to be examined as a file of its own");
            }

            var turned = header.Contains("orientation") && header.Get("orientation") is int and >= 5 and <= 8;
            var size = turned ? new PixelSize(stored.Height, stored.Width) : stored;
            var profileFits = Shows(() => ToSrgb(header));

            // Numbers that are not whole say what is white only where the file calls them light.
            if ((header.Format is not (Enums.BandFormat.Uchar or Enums.BandFormat.Ushort) && header.Interpretation != Enums.Interpretation.Scrgb)
                || (!profileFits && !Shows(() => header.Colourspace(Enums.Interpretation.Srgb))))
            {
                throw new PhotoException(file, "has channels or numbers that are not those of a photograph", "save it as a grey, RGB or CMYK picture with 8 or 16 bits per channel");
            }

            return new PhotoFile(file, bytes, mostTime ?? MostTime, format, size, CameraReader.Read(bytes, size), profileFits);
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
            ? Pixels(() => Load(1))
            : Pixels(() => Shrunk(longestSide));
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
                using var whole = Load(1, Enums.Access.Random);
                using var upright = whole.Autorot();
                return upright.Crop(left, top, size.Width, size.Height);
            });
    }

    /// <param name="shrink">1, 2, 4 or 8: a JPEG is decoded at this fraction of its size, which costs less than shrinking it afterwards.</param>
    private Image Load(int shrink, Enums.Access access = Enums.Access.Sequential)
    {
        var image = Image.NewFromBuffer(
            _bytes,
            access: access,
            failOn: Enums.FailOn.Error,
            kwargs: shrink > 1 ? new VOption { { "shrink", shrink } } : null);
        if (_profileFits || !image.Contains(Profile))
        {
            return image;
        }

        using (image)
        {
            return image.Mutate(m => m.Remove(Profile));
        }
    }

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

    private RgbImage Pixels(Func<Image> load)
    {
        using var timer = new CancellationTokenSource(_mostTime);
        try
        {
            using var loaded = load();
            using var colour = ToSrgb(loaded);
            using var opaque = colour.HasAlpha() ? colour.Flatten(background: [255, 255, 255]) : colour.Copy();
            using var bytes = opaque.Cast(Enums.BandFormat.Uchar);
            bytes.SetProgress(new Unheard(), timer.Token);

            // Rows come in order from the decoder; a quarter turn needs them all.
            using var inMemory = bytes.CopyMemory();
            using var upright = inMemory.Autorot();
            var size = new PixelSize(upright.Width, upright.Height);
            var pixels = upright.WriteToMemory<byte>();
            return timer.IsCancellationRequested ? throw TooSlow() : new RgbImage(size, pixels);
        }
        catch (VipsException) when (timer.IsCancellationRequested)
        {
            throw TooSlow();
        }
        catch (VipsException e)
        {
            throw Damaged(File, e);
        }
    }

    private PhotoException TooSlow() => new(File, $"takes more than {_mostTime.TotalSeconds:0.###} s to decode", "give a picture of the usual kind, such as a JPEG from the camera");

    private static Image ToSrgb(Image image) => image.Contains(Profile)
        ? image.IccTransform("srgb", embedded: true)
        : image.Colourspace(Enums.Interpretation.Srgb);

    /// <summary>Whether a picture becomes one of three colours, and of how far it is opaque at most. A colour profile that cannot be used for its pixels is left aside.</summary>
    private static bool Shows(Func<Image> converted)
    {
        try
        {
            using var colour = converted();
            return colour.Bands is 3 or 4;
        }
        catch (VipsException)
        {
            return false;
        }
    }

    private static PhotoException Damaged(string file, VipsException e)
    {
        var line = e.Message.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).LastOrDefault() ?? "";
        return new PhotoException(file, line.Length == 0 ? "is damaged or cut short" : $"is damaged or cut short ({line})", "copy the picture again from the camera");
    }

    /// <summary>Progress that nobody looks at: having it makes the decoder heed the time limit.</summary>
    private sealed class Unheard : IProgress<int>
    {
        public void Report(int value)
        {
        }
    }
}
