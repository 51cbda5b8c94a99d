using System.Globalization;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;
using Pairbench.Storage;

namespace Pairbench.Bench.Hosting;

/// <summary>Photographs as the board shows them: shrunk whole, or a part at full resolution. Previews are kept on disk by content.</summary>
public sealed class Previews : IDisposable
{
    /// <summary>Pictures up to this size stay decoded while parts of them are asked for.</summary>
    private const long MostDecoded = 60_000_000;

    private readonly IReviewShelf _shelf;
    private readonly string _folder;
    private readonly SemaphoreSlim _decoding = new(1);
    private (string Hash, RgbImage Picture)? _latest;

    public Previews(IReviewShelf shelf, BenchOptions options)
    {
        ArgumentNullException.ThrowIfNull(options);
        _shelf = shelf;
        _folder = Path.Combine(options.DataFolder, "previews");
        Directory.CreateDirectory(_folder);
    }

    /// <summary>The whole picture as JPEG, its longer side at most <paramref name="longest"/> pixels; null where there is no such file.</summary>
    /// <exception cref="PhotoException">It is no picture that can be read.</exception>
    public async Task<byte[]?> WholeAsync(string hash, int longest, CancellationToken cancellation)
    {
        if (!IsHash(hash))
        {
            return null;
        }

        var size = Sizes.First(s => s >= longest || s == Sizes[^1]);
        var path = Path.Combine(_folder, $"{hash}-{size.ToString(CultureInfo.InvariantCulture)}.jpg");
        if (File.Exists(path))
        {
            return await File.ReadAllBytesAsync(path, cancellation);
        }

        if (await OpenAsync(hash, cancellation) is not { } photo)
        {
            return null;
        }

        await _decoding.WaitAsync(cancellation);
        try
        {
            var jpeg = await Task.Run(() => PictureWriter.Jpeg(photo.Decode(size), 88), cancellation);
            var beside = $"{path}.{Guid.NewGuid():n}";
            await File.WriteAllBytesAsync(beside, jpeg, cancellation);
            File.Move(beside, path, overwrite: true);
            return jpeg;
        }
        finally
        {
            _decoding.Release();
        }
    }

    /// <summary>A part of the picture as JPEG, shrunk by whole steps until its longer side is at most <paramref name="longest"/> pixels.</summary>
    /// <exception cref="PhotoException">It is no picture that can be read.</exception>
    public async Task<byte[]?> PartAsync(string hash, int x, int y, int width, int height, int longest, CancellationToken cancellation)
    {
        if (!IsHash(hash))
        {
            return null;
        }

        await _decoding.WaitAsync(cancellation);
        try
        {
            if (_latest is { } latest && latest.Hash == hash)
            {
                return await Task.Run(() => Cut(latest.Picture, x, y, width, height, longest), cancellation);
            }

            if (await OpenAsync(hash, cancellation) is not { } photo)
            {
                return null;
            }

            x = Math.Clamp(x, 0, photo.Size.Width - 1);
            y = Math.Clamp(y, 0, photo.Size.Height - 1);
            width = Math.Clamp(width, 1, photo.Size.Width - x);
            height = Math.Clamp(height, 1, photo.Size.Height - y);
            if (photo.Size.Count > MostDecoded)
            {
                return await Task.Run(() => Cut(photo.DecodePart(x, y, new PixelSize(width, height)), 0, 0, width, height, longest), cancellation);
            }

            var whole = await Task.Run(() => photo.Decode(), cancellation);
            _latest = (hash, whole);
            return await Task.Run(() => Cut(whole, x, y, width, height, longest), cancellation);
        }
        finally
        {
            _decoding.Release();
        }
    }

    public void Dispose() => _decoding.Dispose();

    private static int[] Sizes { get; } = [320, 800, 1600, 3200];

    private static bool IsHash(string hash) => hash.Length == 64 && hash.All(char.IsAsciiHexDigitLower);

    private async Task<PhotoFile?> OpenAsync(string hash, CancellationToken cancellation)
    {
        await using var content = await _shelf.OpenAsync(hash, cancellation);
        if (content is null)
        {
            return null;
        }

        using var memory = new MemoryStream();
        await content.CopyToAsync(memory, cancellation);
        return PhotoFile.Open("picture", WholeContent.Picture(hash, "picture", memory.ToArray()));
    }

    private static byte[] Cut(RgbImage picture, int x, int y, int width, int height, int longest)
    {
        x = Math.Clamp(x, 0, picture.Width - 1);
        y = Math.Clamp(y, 0, picture.Height - 1);
        width = Math.Clamp(width, 1, picture.Width - x);
        height = Math.Clamp(height, 1, picture.Height - y);
        var step = Math.Max(1, (int)Math.Ceiling(Math.Max(width, height) / (double)Math.Clamp(longest, 16, 4096)));
        var size = new PixelSize(Math.Max(1, width / step), Math.Max(1, height / step));
        var pixels = new byte[size.Count * 3];
        for (var v = 0; v < size.Height; v++)
        {
            for (var u = 0; u < size.Width; u++)
            {
                var (red, green, blue) = (0, 0, 0);
                for (var j = 0; j < step; j++)
                {
                    var row = picture.Row(Math.Min(picture.Height - 1, y + (v * step) + j));
                    for (var i = 0; i < step; i++)
                    {
                        var at = Math.Min(picture.Width - 1, x + (u * step) + i) * 3;
                        red += row[at];
                        green += row[at + 1];
                        blue += row[at + 2];
                    }
                }

                var (to, count) = (((v * size.Width) + u) * 3, step * step);
                pixels[to] = (byte)(red / count);
                pixels[to + 1] = (byte)(green / count);
                pixels[to + 2] = (byte)(blue / count);
            }
        }

        return PictureWriter.Jpeg(new RgbImage(size, pixels), 92);
    }
}
