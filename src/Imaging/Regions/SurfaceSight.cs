using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>What the picture says of a surface before any dab. All but <paramref name="Contact"/> at half the size, padded to what the networks take.</summary>
/// <param name="Contact">Log odds of touching at the size of the surface, within ±8.</param>
/// <param name="Mask">How much of a place belongs to the surface, 0 to 1.</param>
/// <param name="Small">The log odds again.</param>
/// <param name="ContactSpace">Places that touch, and places that do not, lie together here.</param>
/// <param name="MaterialSpace">Places of one material lie together here.</param>
/// <param name="Features">What else the judges of the dabs are told.</param>
/// <param name="Repeats">What the log odds are where the tread repeats.</param>
internal sealed record SurfaceSight(
    Plane Contact,
    Plane Mask,
    Plane Small,
    ImmutableArray<Plane> ContactSpace,
    ImmutableArray<Plane> MaterialSpace,
    ImmutableArray<Plane> Features,
    TreadRepeats Repeats)
{
    /// <summary>How many planes the judges of the dabs are told that no dab changes: the features and the log odds.</summary>
    public const int Steady = 13;

    private const float Surest = 8;

    public int Width => Mask.Width;

    public int Height => Mask.Height;

    /// <summary>Looks at a surface.</summary>
    /// <param name="inputs">What <see cref="SurfaceInput"/> makes of the picture.</param>
    /// <param name="pixelsPerMm">At the size of the surface.</param>
    public static SurfaceSight Of(Plane[] inputs, bool[] inside, double pixelsPerMm)
    {
        var grid = SurfaceNetwork.Grid;
        int width = inputs[0].Width, height = inputs[0].Height;
        int paddedWidth = (width + grid - 1) / grid * grid, paddedHeight = (height + grid - 1) / grid * grid;
        var said = SurfaceNetwork.Picture.Run([.. inputs.SelectMany(p => p.Sized(paddedWidth, paddedHeight).Parted())]);
        var contact = PlaneSizes.Woven(said.AsSpan(0, 4)).Map(v => Math.Clamp(v, -Surest, Surest));
        var mask = new Plane(width, height, [.. inside.Select(i => i ? 1f : 0)]).Sized(paddedWidth, paddedHeight).Halved();
        var small = contact.Halved();
        const int spaces = 4 + (2 * SurfaceNetwork.Dimensions);
        return new SurfaceSight(
            contact.Sized(width, height),
            mask,
            small,
            [.. said[4..(4 + SurfaceNetwork.Dimensions)]],
            [.. said[(4 + SurfaceNetwork.Dimensions)..spaces]],
            [.. said[spaces..]],
            TreadRepeats.Of(small, mask, pixelsPerMm / 2));
    }

    /// <summary>Nothing seen: the contact is known from elsewhere.</summary>
    public static SurfaceSight Unseen(int width, int height)
    {
        var none = new Plane((width + 1) / 2, (height + 1) / 2);
        return new SurfaceSight(new Plane(width, height), none, none, [none], [none], [], new TreadRepeats(none, none));
    }

    /// <summary>Values at half the size as a network is told them: scaled, and nothing beyond the surface.</summary>
    public Plane Told(float[] values, float scale)
    {
        var plane = new Plane(Width, Height);
        for (var i = 0; i < plane.Values.Length; i++)
        {
            plane.Values[i] = scale * values[i] * Mask.Values[i];
        }

        return plane;
    }
}
