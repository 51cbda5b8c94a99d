using System.Collections.Immutable;

namespace Pairbench.Imaging.Tests.Scenes;

/// <summary>A made-up close-up of a row of stitches with its truth.</summary>
/// <param name="MmPerPx">Millimetres of a pixel; the picture is seen straight from above.</param>
/// <param name="Path">A rough path along the row in pixels.</param>
/// <param name="Stitches">Middles of the stitches that are there, in pixels, in order.</param>
/// <param name="Skipped">Middles of those that are missing.</param>
/// <param name="PitchMm">Mean distance of neighbours along the row, missing ones counted.</param>
/// <param name="PitchCv">Standard deviation of these distances over their mean.</param>
/// <param name="WanderMm">Root mean square of what was drawn off the smooth row.</param>
/// <param name="Edge">A line along the row, such as the edge of a panel, in pixels.</param>
public sealed record RowScene(
    RgbImage Picture,
    double MmPerPx,
    ImmutableArray<PixelPoint> Path,
    ImmutableArray<PixelPoint> Stitches,
    ImmutableArray<PixelPoint> Skipped,
    double PitchMm,
    double PitchCv,
    double WanderMm,
    ImmutableArray<PixelPoint> Edge,
    double EdgeMm,
    string Kind);
