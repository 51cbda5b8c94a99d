using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>A short brush stroke on a picture: what lies under it is of one label.</summary>
/// <param name="Label">A material from 1 to <see cref="MaxLabel"/>, or <see cref="NotTouching"/>.</param>
/// <param name="Path">At least one point, in pixels of the oriented picture.</param>
/// <param name="RadiusPx">Half the width of the brush, above zero.</param>
public sealed record Dab(byte Label, ImmutableArray<PixelPoint> Path, double RadiusPx)
{
    /// <summary>The label of what does not touch: a groove, or the bench.</summary>
    public const byte NotTouching = 0;

    public const byte MaxLabel = 16;
}

/// <summary>A zone traced by hand, grooves included.</summary>
/// <param name="Label">A material from 1, or <see cref="Dab.NotTouching"/> for a zone that does not touch at all.</param>
/// <param name="Polygon">At least three corners in pixels of the oriented picture; closed by itself.</param>
/// <param name="Touching">All of it touches: no grooves are looked for.</param>
public sealed record Zone(byte Label, ImmutableArray<PixelPoint> Polygon, bool Touching);
