using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Footwear;

/// <summary>A photograph in evidence, with what gives it its millimetres.</summary>
public sealed record EvidencePhoto(
    [MinLength(1), Description("the file name of a picture")] string File,
    [Description("a scale such as { \"kind\": \"bar\", \"ends\": [[x, y], [x, y]], \"lengthMm\": 150 }")] PhotoScale? Scale = null)
{
    /// <summary>Opens the picture and makes its mapping to millimetres.</summary>
    /// <param name="where">Place of this photograph in the entry, such as <c>photo</c>.</param>
    /// <exception cref="FaultsException">There is no scale, or it cannot be used.</exception>
    /// <exception cref="PhotoException">The picture cannot be read.</exception>
    public (IPhotograph Picture, PlaneMapping Mapping) Open(IPhotoSource photos, string where)
    {
        ArgumentNullException.ThrowIfNull(photos);
        var picture = photos.Open(File);
        try
        {
            return (picture, PlaneMapping.Of(Scale ?? throw NoScale(where), picture));
        }
        catch (ScaleException e)
        {
            throw new FaultsException(new Fault($"{where}.scale.{e.Field}", e.Message, e.WouldBeRight));
        }
    }

    /// <summary>A length or an area is asked for where nothing gives it.</summary>
    public static FaultsException NoScale(string where) => new(new Fault($"{where}.scale", "is missing: nothing gives this photograph its millimetres", "give a scale, such as { \"kind\": \"sheet\" } for the printed datum sheet or { \"kind\": \"bar\", \"ends\": [[x, y], [x, y]], \"lengthMm\": 150 }"));
}

/// <summary>A rectangle on a photograph in pixels: <c>[x, y, w, h]</c>.</summary>
public readonly record struct PixelRect(double X, double Y, double W, double H)
{
    public PixelPoint Centre => new(X + (W / 2), Y + (H / 2));
}
