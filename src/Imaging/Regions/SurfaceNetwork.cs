using Pairbench.Imaging.Networks;

namespace Pairbench.Imaging.Regions;

/// <summary>Two networks that look at a sole, taught by made-up and rendered soles only: one at the picture alone, one at what the first says together with the dabs.</summary>
internal static class SurfaceNetwork
{
    /// <summary>Dimensions of each of the two spaces in which pixels of one kind lie together (Snell, Swersky, Zemel 2017).</summary>
    public const int Dimensions = 8;

    private static readonly Lazy<(UNet Picture, UNet Dabs)> Taught = new(Load);

    /// <summary>From the planes of <see cref="SurfaceInput"/> to log odds of touching, a space for touching or not and a space for the material.</summary>
    public static UNet Picture => Taught.Value.Picture;

    /// <summary>From the planes of <see cref="ContactJudge"/>, at half the size, to how far picture and dabs are trusted and what is to be added.</summary>
    public static UNet Dabs => Taught.Value.Dabs;

    private static (UNet Picture, UNet Dabs) Load()
    {
        using var reader = UNet.Open("Pairbench.Imaging.Regions.surface-network.bin");
        return (UNet.Read(reader), UNet.Read(reader));
    }
}
