using System.Collections.Immutable;
using Pairbench.Imaging.Regions;

namespace Pairbench.Imaging.Tests.Scenes;

/// <summary>A made-up sole on a bench with everything that is true of it.</summary>
/// <param name="ToPicture">Homography from millimetres of the sole's plane to picture pixels, by rows.</param>
/// <param name="Outline">The sole's edge, clicked with noise.</param>
/// <param name="Dabs">Short brush strokes on touching material (labels from 1) and in grooves (label 0).</param>
/// <param name="Zones">Traced zones of material, grooves included, clicked with noise.</param>
/// <param name="Truth">The material where it touches, 0 elsewhere, in picture pixels.</param>
/// <param name="Coverage">How many quarters of each pixel touch.</param>
/// <param name="Material">The material anywhere on the sole, grooves included; 0 on the bench.</param>
/// <param name="Shares">True share of the touching area by label.</param>
/// <param name="TouchingFraction">True touching area over the area of the whole sole.</param>
/// <param name="Kind">What was drawn, in words.</param>
public sealed record TreadScene(
    RgbImage Photo,
    ImmutableArray<double> ToPicture,
    double PixelsPerMm,
    ImmutableArray<PixelPoint> Outline,
    ImmutableArray<Dab> Dabs,
    ImmutableArray<Zone> Zones,
    LabelMap Truth,
    LabelMap Coverage,
    LabelMap Material,
    ImmutableDictionary<byte, double> Shares,
    double TouchingFraction,
    double TouchingAreaMm2,
    string Kind)
{
    public ImmutableArray<Dab> GrooveDabs => [.. Dabs.Where(d => d.Label == Dab.NotTouching)];
}
