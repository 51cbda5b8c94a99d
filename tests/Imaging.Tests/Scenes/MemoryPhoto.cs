namespace Pairbench.Imaging.Tests.Scenes;

/// <summary>A picture held in memory, of a camera that is not known.</summary>
internal sealed class MemoryPhoto(RgbImage picture, string file = "scene.png") : IPhotograph
{
    public string File => file;

    public PixelSize Size => picture.Size;

    public CameraFacts Camera => CameraFacts.Unknown;

    /// <summary>Each pixel of a shrunk picture is the mean of those that it covers.</summary>
    public RgbImage Decode(int longestSide = int.MaxValue)
    {
        var longest = Math.Max(picture.Width, picture.Height);
        if (longestSide >= longest)
        {
            return picture;
        }

        int width = Math.Max(1, picture.Width * longestSide / longest), height = Math.Max(1, picture.Height * longestSide / longest);
        var pixels = new byte[width * height * 3];
        for (var i = 0; i < width * height; i++)
        {
            int left = i % width * picture.Width / width, right = Math.Max(left + 1, ((i % width) + 1) * picture.Width / width);
            int top = i / width * picture.Height / height, bottom = Math.Max(top + 1, ((i / width) + 1) * picture.Height / height);
            for (var c = 0; c < 3; c++)
            {
                var sum = 0;
                for (var y = top; y < bottom; y++)
                {
                    for (var x = left; x < right; x++)
                    {
                        sum += picture.Row(y)[(3 * x) + c];
                    }
                }

                pixels[(3 * i) + c] = (byte)(sum / ((right - left) * (bottom - top)));
            }
        }

        return new RgbImage(new PixelSize(width, height), pixels);
    }

    public RgbImage DecodePart(int left, int top, PixelSize size)
    {
        var pixels = new byte[size.Count * 3];
        for (var y = 0; y < size.Height; y++)
        {
            picture.Row(top + y).Slice(3 * left, 3 * size.Width).CopyTo(pixels.AsSpan(3 * y * size.Width));
        }

        return new RgbImage(size, pixels);
    }
}

/// <summary>Photographs that are open already.</summary>
internal sealed class MemoryPhotos(params IPhotograph[] photos) : IPhotoSource
{
    public IPhotograph Open(string file) => photos.FirstOrDefault(p => p.File == file) ?? throw new PhotoException(file, "is not there", "put the picture beside the review file");
}
