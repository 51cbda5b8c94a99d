using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Text.Json.Serialization;
using Pairbench.Measuring;

namespace Pairbench.Imaging.Geometry;

/// <summary>What gives a photograph its millimetres.</summary>
/// <param name="PlaneHeightMm">Height of the measured plane over the plane of the scale, towards the camera; other than zero and without an uncertainty it is taken to be right to 1 mm.</param>
/// <param name="FocalLengthPx">Focal length in pixels of the full oriented picture, where it is known better than the file says.</param>
/// <param name="ClickSigmaPx">Standard uncertainty of a clicked point along each axis in pixels.</param>
/// <param name="ScaleUncertaintyPct">Standard uncertainty of the scale itself, in % along each axis of the paper.</param>
/// <param name="LensSigma">Standard uncertainty of the first radial coefficient of the lens (Brown-Conrady k1, radius in focal lengths); where it is left out, what shifts the corner of the picture by 0.5 %, or 1.5 % for a wide angle; with a sheet or cards the lens is found from the picture.</param>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "kind")]
[JsonDerivedType(typeof(ScanScale), "scan")]
[JsonDerivedType(typeof(BarScale), "bar")]
[JsonDerivedType(typeof(RectangleScale), "rectangle")]
[JsonDerivedType(typeof(SheetScale), "sheet")]
[JsonDerivedType(typeof(CardsScale), "cards")]
public abstract record PhotoScale(Measured? PlaneHeightMm, double? FocalLengthPx, double ClickSigmaPx, double ScaleUncertaintyPct, double? LensSigma)
{
    /// <summary>Standard uncertainty of a height that was read with a rule against a rounded shoe and states none (common practice, no source).</summary>
    internal const double HeightMm = 1;
}

/// <summary>A flat-bed scan: pixels are square and the lens has no say.</summary>
public sealed record ScanScale(
    [Range(20, 12_800)] double Dpi,
    [InUnit("mm")] Measured? PlaneHeightMm = null,
    [Range(1, 1e6)] double? FocalLengthPx = null,
    [Range(0, 100)] double ClickSigmaPx = 1.0,
    [Range(0, 20)] double ScaleUncertaintyPct = 0.2,
    [Range(0, 1)] double? LensSigma = null)
    : PhotoScale(PlaneHeightMm, FocalLengthPx, ClickSigmaPx, ScaleUncertaintyPct, LensSigma);

/// <summary>A bar of known length, such as a steel rule, that lies in the plane of the scale; the camera looks straight at it.</summary>
public sealed record BarScale(
    [MinLength(2), MaxLength(2), Description("the two ends [[x, y], [x, y]]")] ImmutableArray<PixelPoint> Ends,
    [Range(0.1, 10_000)] double LengthMm,
    [InUnit("mm"), ReadTo(PhotoScale.HeightMm)] Measured? PlaneHeightMm = null,
    [Range(1, 1e6)] double? FocalLengthPx = null,
    [Range(0, 100)] double ClickSigmaPx = 1.0,
    [Range(0, 20)] double ScaleUncertaintyPct = 0.2,
    [Range(0, 1)] double? LensSigma = null)
    : PhotoScale(PlaneHeightMm, FocalLengthPx, ClickSigmaPx, ScaleUncertaintyPct, LensSigma);

/// <summary>A rectangle of known size, such as a sheet of paper.</summary>
/// <param name="Corners">Top-left, top-right, bottom-right, bottom-left of the rectangle.</param>
public sealed record RectangleScale(
    [MinLength(4), MaxLength(4), Description("four corners [[x, y], ...]: top-left, top-right, bottom-right, bottom-left")] ImmutableArray<PixelPoint> Corners,
    [Description("[width, height] in mm")] SizeMm SizeMm,
    [InUnit("mm"), ReadTo(PhotoScale.HeightMm)] Measured? PlaneHeightMm = null,
    [Range(1, 1e6)] double? FocalLengthPx = null,
    [Range(0, 100)] double ClickSigmaPx = 1.0,
    [Range(0, 20)] double ScaleUncertaintyPct = 0.2,
    [Range(0, 1)] double? LensSigma = null)
    : PhotoScale(PlaneHeightMm, FocalLengthPx, ClickSigmaPx, ScaleUncertaintyPct, LensSigma);

/// <summary>A print of ours that is found in the picture itself.</summary>
/// <param name="CheckBarMm">What a steel rule says of the 100 mm check bar along the longer side of the page; without an uncertainty it is taken to be read to 0.1 mm.</param>
/// <param name="CheckBarAcrossMm">The same of the bar along the shorter side.</param>
/// <param name="Sheet">Name of the print, the same in every photograph of it: what paper and printer are off by is then one cause, which cancels in differences.</param>
public abstract record PrintedScale(Measured? CheckBarMm, Measured? CheckBarAcrossMm, Measured? PlaneHeightMm, double? FocalLengthPx, double ClickSigmaPx, double ScaleUncertaintyPct, double? LensSigma, string? Sheet)
    : PhotoScale(PlaneHeightMm, FocalLengthPx, ClickSigmaPx, ScaleUncertaintyPct, LensSigma)
{
    internal const string NameOfPrint = "^[a-z0-9]+(-[a-z0-9]+)*$";
}

/// <summary>The datum sheet: one sheet of any of its papers.</summary>
public sealed record SheetScale(
    [InUnit("mm")] Measured? CheckBarMm = null,
    [InUnit("mm")] Measured? CheckBarAcrossMm = null,
    [InUnit("mm"), ReadTo(PhotoScale.HeightMm)] Measured? PlaneHeightMm = null,
    [Range(1, 1e6)] double? FocalLengthPx = null,
    [Range(0, 100)] double ClickSigmaPx = 1.0,
    [Range(0, 20)] double ScaleUncertaintyPct = 0.2,
    [Range(0, 1)] double? LensSigma = null,
    [RegularExpression(PrintedScale.NameOfPrint, ErrorMessage = "use small letters, digits and single hyphens")] string? Sheet = null)
    : PrintedScale(CheckBarMm, CheckBarAcrossMm, PlaneHeightMm, FocalLengthPx, ClickSigmaPx, ScaleUncertaintyPct, LensSigma, Sheet);

/// <summary>Loose corner cards cut from one page, lying in one plane.</summary>
public sealed record CardsScale(
    [InUnit("mm")] Measured? CheckBarMm = null,
    [InUnit("mm")] Measured? CheckBarAcrossMm = null,
    [InUnit("mm"), ReadTo(PhotoScale.HeightMm)] Measured? PlaneHeightMm = null,
    [Range(1, 1e6)] double? FocalLengthPx = null,
    [Range(0, 100)] double ClickSigmaPx = 1.0,
    [Range(0, 20)] double ScaleUncertaintyPct = 0.2,
    [Range(0, 1)] double? LensSigma = null,
    [RegularExpression(PrintedScale.NameOfPrint, ErrorMessage = "use small letters, digits and single hyphens")] string? Sheet = null)
    : PrintedScale(CheckBarMm, CheckBarAcrossMm, PlaneHeightMm, FocalLengthPx, ClickSigmaPx, ScaleUncertaintyPct, LensSigma, Sheet);

/// <summary>Width and height in millimetres: <c>[420, 297]</c>.</summary>
public readonly record struct SizeMm(double Width, double Height);

/// <summary>A scale cannot be used.</summary>
/// <param name="field">The field of the scale that is wrong, such as <c>corners</c>.</param>
public sealed class ScaleException(string field, string message, string wouldBeRight) : Exception(message)
{
    public string Field { get; } = field;

    public string WouldBeRight { get; } = wouldBeRight;
}
