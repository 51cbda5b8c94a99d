using Pairbench.Imaging.Datum;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Tests.Datum;

/// <summary>What became of one scene.</summary>
/// <param name="Found">The right print was found.</param>
/// <param name="WorstCornerPx">Largest distance of a seen code's corner from its true place.</param>
/// <param name="LengthErrorMm">Of 100 mm in the middle of the print.</param>
/// <param name="LengthUncertaintyMm">Standard, as stated.</param>
/// <param name="Covered">The 95 % interval holds the truth.</param>
internal sealed record DatumTrial(bool Found, double WorstCornerPx, double CornerRmsPx, double LengthErrorMm, double LengthUncertaintyMm, bool Covered, string Words)
{
    /// <param name="paperPct">As drawn; stated as such.</param>
    public static DatumTrial Of(DatumScene scene, double paperPct)
    {
        ArgumentNullException.ThrowIfNull(scene);
        PrintedScale scale = scene.Kind == SceneKind.Cards ? new CardsScale(ScaleUncertaintyPct: paperPct, ClickSigmaPx: 0) : new SheetScale(ScaleUncertaintyPct: paperPct, ClickSigmaPx: 0);
        DatumFound found;
        try
        {
            found = DatumFinder.Find(scale, scene.Photo);
        }
        catch (ScaleException e)
        {
            return new DatumTrial(false, double.NaN, double.NaN, double.NaN, double.NaN, false, e.Message);
        }

        var errors = found.Codes.Where(c => c.Seen).SelectMany(c => Corners(scene, c).Zip(c.Corners, (t, f) => t.DistanceTo(f))).ToArray();
        var mapping = PlaneMapping.Of(scale, found, scene.Photo.File);
        var angle = scene.Between(0, Math.PI);
        var (dx, dy) = (50 * Math.Cos(angle), 50 * Math.Sin(angle));
        var length = mapping.Length(scene.Camera.Picture(new PlanePoint(scene.Middle.X - dx, scene.Middle.Y - dy)), scene.Camera.Picture(new PlanePoint(scene.Middle.X + dx, scene.Middle.Y + dy)), "ends");
        return new DatumTrial(
            found.Layout == scene.Layout,
            errors.DefaultIfEmpty(double.NaN).Max(),
            Math.Sqrt(errors.DefaultIfEmpty(double.NaN).Average(e => e * e)),
            length.Value - 100,
            length.StandardUncertainty,
            length.CoverageInterval().Contains(100),
            found.Words);
    }

    private static IEnumerable<PixelPoint> Corners(DatumScene scene, SeenCode seen)
    {
        var code = scene.Layout.Targets.SelectMany(t => t.Codes).Single(c => c.Text.Number == seen.Number);
        return new[] { (0, 0), (21, 0), (21, 21), (0, 21) }.Select(p => scene.Truth(seen.Number, code.At(p.Item1, p.Item2)));
    }
}
