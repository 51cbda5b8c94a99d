using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Reporting;

/// <summary>Makes the pictures of a report: cropped, shrunk to print size and encoded anew without tags.</summary>
internal sealed class ReportPictures(IPhotoSource photos)
{
    private const int WidePixels = 1400;
    private const int CropPixels = 520;
    private const int SmallPixels = 430;

    private readonly Dictionary<ReviewPhoto, ReportPicture?> _small = [];

    /// <summary>A photograph of the review, small; decoded once. Null where it cannot be read.</summary>
    public ReportPicture? Small(ReviewPhoto photo)
    {
        if (!_small.TryGetValue(photo, out var picture))
        {
            _small[photo] = picture = MadeSmall(photo);
        }

        return picture;
    }

    private ReportPicture? MadeSmall(ReviewPhoto photo) => Opened(photo.File, p =>
    {
        var caption = photo.Caption ?? string.Join(", ", new[] { photo.View, photo.Side is { } side ? EnumWords.Of(side) : null }.OfType<string>());
        return Encoded(p.Decode(SmallPixels), caption.Length == 0 ? photo.File : caption, $"photograph {photo.File}", PictureMark.None);
    });

    /// <summary>The part of a photograph that shows a finding, with its mark. Null where there is no photograph or it cannot be read.</summary>
    public ReportPicture? Of(Finding finding) => finding.Photo is not { } file ? null : Opened(file, photo =>
    {
        var mark = PictureMark.Read(finding.Mark);
        var words = mark.IsEmpty ? $"photograph {file}" : $"part of photograph {file} with the finding marked";
        if (mark.IsEmpty)
        {
            return Encoded(photo.Decode(CropPixels), "", words, mark);
        }

        var (left, top, size) = Part(mark, photo.Size);
        var shrink = Math.Max(1, Math.Max(size.Width, size.Height) / CropPixels);
        var part = Shrunk(photo.DecodePart(left, top, size), shrink);
        return Encoded(part, "", words, mark.On(new PixelPoint(left, top), 1.0 / shrink));
    });

    /// <summary>A plate; pictures that are no drawing are encoded anew.</summary>
    public static ReportPicture? Of(Outcome outcome, Plate plate)
    {
        if (plate.MediaType == "image/svg+xml")
        {
            return new ReportPicture(plate.MediaType, plate.Content, 0, 0, plate.Caption, plate.Caption, PictureMark.None);
        }

        try
        {
            var picture = PhotoFile.Open(plate.File, plate.Content.ToArray()).Decode(WidePixels);
            return plate.MediaType == "image/png"
                ? new ReportPicture("image/png", PictureWriter.Png(picture), picture.Width, picture.Height, plate.Caption, plate.Caption, PictureMark.None)
                : Encoded(picture, plate.Caption, plate.Caption, PictureMark.None);
        }
        catch (PhotoException)
        {
            return null;
        }
    }

    /// <summary>A quiet surround about the mark: twice its extent, at least a sixth of the picture.</summary>
    private static (int Left, int Top, PixelSize Size) Part(PictureMark mark, PixelSize picture)
    {
        var places = mark.All.ToList();
        var (x0, x1) = (places.Min(p => p.X), places.Max(p => p.X));
        var (y0, y1) = (places.Min(p => p.Y), places.Max(p => p.Y));
        var side = Math.Max(Math.Max(x1 - x0, y1 - y0) * 2, Math.Max(picture.Width, picture.Height) / 6.0);
        var width = (int)Math.Clamp(Math.Ceiling(side * 4 / 3), 1, picture.Width);
        var height = (int)Math.Clamp(Math.Ceiling(side), 1, picture.Height);
        var left = (int)Math.Clamp(((x0 + x1) / 2) - (width / 2.0), 0, picture.Width - width);
        var top = (int)Math.Clamp(((y0 + y1) / 2) - (height / 2.0), 0, picture.Height - height);
        return (left, top, new PixelSize(width, height));
    }

    /// <summary>Every block of <paramref name="factor"/> by <paramref name="factor"/> pixels becomes their mean.</summary>
    private static RgbImage Shrunk(RgbImage picture, int factor)
    {
        var size = new PixelSize(picture.Width / factor, picture.Height / factor);
        if (factor == 1 || size.Width < 1 || size.Height < 1)
        {
            return picture;
        }

        var pixels = new byte[size.Count * 3];
        for (var y = 0; y < size.Height; y++)
        {
            for (var x = 0; x < size.Width * 3; x++)
            {
                var (column, channel) = Math.DivRem(x, 3);
                var sum = 0;
                for (var dy = 0; dy < factor; dy++)
                {
                    var row = picture.Row((y * factor) + dy);
                    for (var dx = 0; dx < factor; dx++)
                    {
                        sum += row[(((column * factor) + dx) * 3) + channel];
                    }
                }

                pixels[(y * size.Width * 3) + x] = (byte)((sum + (factor * factor / 2)) / (factor * factor));
            }
        }

        return new RgbImage(size, pixels);
    }

    private ReportPicture? Opened(string file, Func<IPhotograph, ReportPicture> make)
    {
        try
        {
            return make(photos.Open(file));
        }
        catch (PhotoException)
        {
            return null;
        }
    }

    private static ReportPicture Encoded(RgbImage picture, string caption, string words, PictureMark mark) =>
        new("image/jpeg", PictureWriter.Jpeg(picture, 82), picture.Width, picture.Height, caption, words, mark);
}
