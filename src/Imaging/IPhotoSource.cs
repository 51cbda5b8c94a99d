namespace Pairbench.Imaging;

/// <summary>Gives the photographs that evidence names. The one way by which pixels reach an examination.</summary>
public interface IPhotoSource
{
    /// <param name="file">The name as it stands in the evidence.</param>
    /// <exception cref="PhotoException">There is no such file, or it is not a picture that can be read.</exception>
    IPhotograph Open(string file);
}

/// <summary>A photograph whose header has been read and checked; pixels are decoded on demand.</summary>
public interface IPhotograph
{
    string File { get; }

    /// <summary>Size after the EXIF orientation is applied.</summary>
    PixelSize Size { get; }

    /// <summary>What the file says of the camera, as far as it fits the decoded pixels.</summary>
    CameraFacts Camera { get; }

    /// <summary>The whole oriented picture in sRGB, shrunk so that its longer side is at most <paramref name="longestSide"/> pixels; never enlarged.</summary>
    /// <exception cref="PhotoException">The data is damaged or cut short.</exception>
    RgbImage Decode(int longestSide = int.MaxValue);

    /// <summary>A part of the oriented picture at full size, in sRGB.</summary>
    /// <param name="left">Columns of the picture to the left of it.</param>
    /// <param name="top">Rows of the picture above it.</param>
    /// <exception cref="PhotoException">The data is damaged or cut short.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The part does not lie in the picture.</exception>
    RgbImage DecodePart(int left, int top, PixelSize size);
}

/// <summary>Camera data from the file.</summary>
/// <param name="FocalLengthPx">Focal length in pixels of the oriented full-size picture with its standard uncertainty; absent where the file does not say or the picture was resized or cropped.</param>
/// <param name="Words">How it was had, for the list of assumptions; empty where absent.</param>
public sealed record CameraFacts(Measuring.Measured? FocalLengthPx, string Words)
{
    public static CameraFacts Unknown { get; } = new(null, "");
}

/// <summary>A photograph cannot be read. The message says what is wrong; <see cref="WouldBeRight"/> what would be right.</summary>
public sealed class PhotoException(string file, string message, string wouldBeRight) : Exception(message)
{
    public string File { get; } = file;

    public string WouldBeRight { get; } = wouldBeRight;
}
