using Pairbench.Imaging.Networks;

namespace Pairbench.Imaging.Regions;

/// <summary>
/// Three networks that look at a sole, taught together by made-up and rendered soles only: one at the picture alone, two at what it says together with the dabs.
/// </summary>
internal static class SurfaceNetwork
{
    /// <summary>Dimensions of each of the two spaces in which pixels of one kind lie together (Snell, Swersky, Zemel 2017).</summary>
    public const int Dimensions = 8;

    /// <summary>Without a slope below zero the coarse levels of an earlier teaching fell silent, and nothing could wake them.</summary>
    private const float Slope = 0.1f;

    private static readonly Lazy<(UNet Picture, UNet Contact, UNet Material)> Taught = new(Load);

    /// <summary>From the planes of <see cref="SurfaceInput"/>, four pixels at once, to what <see cref="SurfaceSight"/> holds.</summary>
    public static UNet Picture => Taught.Value.Picture;

    /// <summary>From the planes of <see cref="ContactJudge"/>, at half the size, to how far picture and dabs are trusted and what is to be added.</summary>
    public static UNet Contact => Taught.Value.Contact;

    /// <summary>From the planes of <see cref="MaterialJudge"/>, at a quarter of the size, to how far the dabs are trusted and what is to be added.</summary>
    public static UNet Material => Taught.Value.Material;

    /// <summary>Width and height of a surface are padded to a multiple of this: the network of the picture and the judge of contact begin at half the size, the judge of materials at a quarter.</summary>
    public static int Grid => Math.Max(2 * Math.Max(Picture.Grid, Contact.Grid), 4 * Material.Grid);

    private static (UNet Picture, UNet Contact, UNet Material) Load()
    {
        using var reader = UNet.Open("Pairbench.Imaging.Regions.surface-network.bin");
        return (UNet.Read(reader, 6, Slope), UNet.Read(reader, 6, Slope, SurfaceSight.Steady), UNet.Read(reader, 5, Slope, SurfaceSight.Steady));
    }
}
