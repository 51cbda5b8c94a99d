using Pairbench.Imaging.Geometry;
using Pairbench.Measuring;

namespace Pairbench.Imaging.Datum;

/// <summary>What is known of camera and print before the picture is looked at.</summary>
internal static class KnownBefore
{
    /// <summary>Standard uncertainty of what a steel rule with divisions of half a millimetre says, where none is given (common practice, no source).</summary>
    public const double RuleMm = 0.1;

    /// <summary>How much paper moves between the reading and the photograph, in % (common practice, no source).</summary>
    public const double PaperSincePct = 0.03;

    private const double LensK1 = 0.1, LensK2 = 0.1;

    private const double CentreShare = 0.01;

    /// <exception cref="ScaleException">A field of the scale is wrong.</exception>
    public static ViewPrior Of(PrintedScale scale, PixelSize size, CameraFacts camera)
    {
        var longest = Math.Max(size.Width, size.Height);
        var (focal, focalShare) = Focal(scale, camera, longest);
        var (along, across) = Stretch(scale);
        var uncertainty = Enumerable.Repeat(double.PositiveInfinity, PlaneView.Common).ToArray();
        uncertainty[PlaneView.Focal] = focalShare;
        uncertainty[PlaneView.K1] = scale.LensSigma ?? LensK1;
        uncertainty[PlaneView.K2] = scale.LensSigma ?? LensK2;
        uncertainty[PlaneView.CentreX] = uncertainty[PlaneView.CentreY] = CentreShare * longest;
        uncertainty[PlaneView.ScaleX] = along.Whole;
        uncertainty[PlaneView.ScaleY] = across.Whole;
        var about = new PlaneView(Rotation.Of(0, 0, 0), [0, 0, 1], focal, default, new PixelPoint(size.Width / 2.0, size.Height / 2.0), along.Mean, across.Mean, []);
        return new ViewPrior(about, uncertainty);
    }

    /// <summary>Focal length in pixels and its relative standard uncertainty.</summary>
    public static (double Px, double Share) Focal(PhotoScale scale, CameraFacts camera, int longest) => scale.FocalLengthPx is { } stated
        ? (stated, 0.005)
        : camera.FocalLengthPx is { } exif ? (exif.Value, exif.StandardUncertainty / exif.Value) : (0.85 * longest, 0.2);

    /// <summary>Stretch of the print along each axis of the page, true over nominal, less one.</summary>
    /// <exception cref="ScaleException">A reading of a check bar cannot be one.</exception>
    public static (PrintStretch Along, PrintStretch Across) Stretch(PrintedScale scale)
    {
        var paper = scale.ScaleUncertaintyPct / 100;
        var since = Math.Min(paper, PaperSincePct / 100);
        var along = Read(scale.CheckBarMm, "checkBarMm");
        var across = Read(scale.CheckBarAcrossMm, "checkBarAcrossMm");
        return (
            along is { } a ? new PrintStretch(a.Mean, a.Uncertainty, 0, since) : across is { } other ? new PrintStretch(other.Mean, 0, other.Uncertainty, paper) : new PrintStretch(0, 0, 0, paper),
            across is { } c ? new PrintStretch(c.Mean, 0, c.Uncertainty, since) : along is { } one ? new PrintStretch(one.Mean, one.Uncertainty, 0, paper) : new PrintStretch(0, 0, 0, paper));
    }

    private static (double Mean, double Uncertainty)? Read(Measured? bar, string field)
    {
        if (bar is null)
        {
            return null;
        }

        return bar.Value is > 50 and < 200
            ? ((bar.Value / DatumLayout.BarMm) - 1, (bar.StandardUncertainty > 0 ? bar.StandardUncertainty : RuleMm) / DatumLayout.BarMm)
            : throw new ScaleException(field, $"is {bar.Value:0.##} mm", "give what a steel rule says of the bar that should be 100 mm, between the middles of its end strokes");
    }
}

/// <summary>Stretch of the print along one axis.</summary>
/// <param name="OfAlong">Part of its standard uncertainty from the reading of the bar along the longer side.</param>
/// <param name="OfAcross">Part from the reading of the bar along the shorter side.</param>
/// <param name="OfPaper">Part of its own.</param>
internal readonly record struct PrintStretch(double Mean, double OfAlong, double OfAcross, double OfPaper)
{
    public double Whole => Math.Sqrt((OfAlong * OfAlong) + (OfAcross * OfAcross) + (OfPaper * OfPaper));
}
