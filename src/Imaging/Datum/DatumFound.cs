using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Datum;

/// <summary>A code of the print, and whether it was seen.</summary>
/// <param name="Number">1 top-left, 2 top-right, 3 bottom-right, 4 bottom-left; of cards the number of the card.</param>
/// <param name="Corners">Where its corners lie in the picture, clockwise from the top-left one of the print.</param>
public readonly record struct SeenCode(int Number, bool Seen, ImmutableArray<PixelPoint> Corners);

/// <summary>A neutral patch of the sheet in the picture.</summary>
/// <param name="Corners">In pixels.</param>
/// <param name="Grey">As it was sent to the printer, sRGB.</param>
public readonly record struct SeenNeutral(ImmutableArray<PixelPoint> Corners, byte Grey);

/// <summary>A datum sheet or corner cards found in a photograph.</summary>
public sealed class DatumFound
{
    private readonly ImmutableArray<DatumTarget> _targets;

    internal DatumFound(DatumLayout layout, ImmutableArray<DatumTarget> targets, FittedView fitted, ViewPrior prior, ImmutableArray<Sighting> sightings, ImmutableArray<SeenCode> codes)
    {
        (Layout, _targets, Fitted, Prior, Codes) = (layout, targets, fitted, prior, codes);
        Edges = [.. sightings.Where((_, i) => fitted.Held[i]).Select(s => (s.Seen, View.Picture(s.Target, s.Printed)))];
        var middle = targets[0];
        var (x, y) = (middle.Size.Width / 2, middle.Size.Height / 2);
        PixelsPerMm = View.Picture(0, new PlanePoint(x - 5, y)).DistanceTo(View.Picture(0, new PlanePoint(x + 5, y))) / 10;
    }

    /// <summary>What was printed.</summary>
    public DatumLayout Layout { get; }

    public ImmutableArray<SeenCode> Codes { get; }

    /// <summary>Edges that agree: where each was seen across itself, and where the fitted view has it, in pixels.</summary>
    public ImmutableArray<(PixelPoint Seen, PixelPoint Fitted)> Edges { get; }

    /// <summary>Angle between the camera's axis and the upright on the sheet.</summary>
    public double TiltDegrees => View.TiltDegrees;

    /// <summary>In the middle of the sheet, or of the first card.</summary>
    public double PixelsPerMm { get; }

    public double FocalLengthPx => View.FocalPx;

    /// <summary>Standard uncertainty, what was known beforehand included.</summary>
    public double FocalUncertaintyPx => View.FocalPx * Math.Sqrt(Fitted.Covariance[PlaneView.Focal, PlaneView.Focal]);

    public BrownConrady Lens => View.Lens;

    /// <summary>Standard deviation of one edge from where the fitted view has it, in pixels.</summary>
    public double ScatterPx => Fitted.Scatter;

    internal FittedView Fitted { get; }

    internal ViewPrior Prior { get; }

    internal PlaneView View => Fitted.View;

    /// <summary>The neutral patches of the sheet that lie in the picture; a shoe may lie on them.</summary>
    public IEnumerable<SeenNeutral> Neutrals => _targets.SelectMany((target, t) => target.Neutrals.Select(n => new SeenNeutral(Corners(t, n.Place), n.Grey)));

    /// <summary>Edge of the paper, or of each card, in the picture.</summary>
    public ImmutableArray<ImmutableArray<PixelPoint>> Outlines => [.. _targets.Select((target, t) => Corners(t, new PlaneRect(0, 0, target.Size.Width, target.Size.Height)))];

    /// <summary>Size of the sheet, or of the card that <see cref="Outlines"/> begin with.</summary>
    public SizeMm PlaneSize => _targets[0].Size;

    /// <summary>Place of something printed, in pixels; of cards the one with this number.</summary>
    /// <returns>Null where that card was not found.</returns>
    public PixelPoint? Picture(int number, PlanePoint printed)
    {
        var target = _targets.Length == 1 ? 0 : _targets.ToList().FindIndex(t => t.Number == number);
        return target < 0 ? null : View.Picture(target, printed);
    }

    /// <summary>What was found, in words.</summary>
    public string Words
    {
        get
        {
            var seen = string.Join(", ", Codes.Where(c => c.Seen).Select(c => c.Number.ToString(CultureInfo.InvariantCulture)));
            var what = ReferenceEquals(Layout, DatumLayout.Cards) ? $"cards {seen}" : $"corners {seen}";
            return string.Create(CultureInfo.InvariantCulture, $"{Layout.Name}: {what} of 4, {Edges.Length} edges to {ScatterPx:0.00} px, {TiltDegrees:0} degrees of tilt, {PixelsPerMm:0.00} px for each mm.");
        }
    }

    private ImmutableArray<PixelPoint> Corners(int target, PlaneRect place) =>
    [
        View.Picture(target, new PlanePoint(place.Left, place.Top)),
        View.Picture(target, new PlanePoint(place.Left + place.Width, place.Top)),
        View.Picture(target, new PlanePoint(place.Left + place.Width, place.Top + place.Height)),
        View.Picture(target, new PlanePoint(place.Left, place.Top + place.Height)),
    ];
}
