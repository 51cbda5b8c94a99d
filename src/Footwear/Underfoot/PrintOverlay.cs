using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Regions;

namespace Pairbench.Footwear.Underfoot;

/// <summary>A print laid over the photograph of its sole by pairs of places; the fit allows the print to be the mirror image that it is.</summary>
internal sealed class PrintOverlay
{
    private readonly PrintInk _ink;
    private readonly WorkingFrame _frame;
    private readonly Homography _toPrint;

    private PrintOverlay(PrintInk ink, WorkingFrame frame, Homography toPrint, double misalignmentPx)
    {
        _ink = ink;
        _frame = frame;
        _toPrint = toPrint;
        MisalignmentPx = misalignmentPx;
    }

    /// <summary>Standard uncertainty of the overlay in pixels of the photograph.</summary>
    public double MisalignmentPx { get; }

    public bool ReachesFrame => _ink.ReachesFrame;

    /// <summary>Log odds of contact at a place of the photograph.</summary>
    public double LogOdds(PixelPoint photo)
    {
        var (x, y) = _toPrint.Map(photo.X, photo.Y);
        return double.IsFinite(x) && double.IsFinite(y) ? _ink.LogOdds(_frame.ToWorking(new PixelPoint(x, y))) : -12;
    }

    public static PrintOverlay Of(PrintOfSole print, IPhotoSource photos, PixelSize photoSize, PlaneMapping mapping, WorkingFrame photoFrame, double photoPerMm)
    {
        var picture = photos.Open(print.Photo.File);
        var faults = MarkChecks.OfPairs(print.Align, photoSize, picture.Size).ToImmutableArray();
        if (faults.Length > 0)
        {
            throw new FaultsException(faults);
        }

        var inPhoto = print.Align.Select(p => (p[0].X, p[0].Y)).ToArray();
        var inPrint = print.Align.Select(p => (p[1].X, p[1].Y)).ToArray();
        var fit = Homography.Fit(inPhoto, inPrint);
        if (!fit.Elements.All(double.IsFinite) || inPhoto.Any(p => !(fit.Depth(p.X, p.Y) * fit.Depth(inPhoto[0].X, inPhoto[0].Y) > 0)))
        {
            throw new FaultsException(new Fault("print.align", "no view of one plane takes these points to those", "check the order of each pair: first the place in the photograph, then the same place in the print"));
        }

        var scale = Math.Sqrt(Math.Abs(fit.AreaFactor(inPhoto.Average(p => p.X), inPhoto.Average(p => p.Y))));
        var squares = inPhoto.Zip(inPrint, (a, b) => (Fitted: fit.Map(a.X, a.Y), Clicked: b)).Sum(p => Math.Pow(p.Fitted.Item1 - p.Clicked.X, 2) + Math.Pow(p.Fitted.Item2 - p.Clicked.Y, 2));
        var spare = (2 * inPhoto.Length) - 8;
        var click = 1.5 * mapping.ClickSigmaPx;
        var residual = spare > 0 ? Math.Sqrt(squares / spare) / Math.Max(1e-9, scale) : 0;
        if (residual > 12 * photoFrame.Step * photoPerMm)
        {
            throw new FaultsException(new Fault("print.align", $"the pairs miss each other by {residual:0} pixels", "check that each pair marks the same place of the sole and of its print"));
        }

        // The print at the same working size on the sole as the photograph.
        var wanted = Math.Max(picture.Size.Width, picture.Size.Height) / (photoFrame.Step * scale);
        var working = picture.Decode((int)Math.Clamp(wanted, 200, 2400));
        var step = (double)picture.Size.Width / working.Width;
        var frame = new WorkingFrame(0, 0, step);
        var ink = PrintFinder.Find(working, photoPerMm, []);
        return new PrintOverlay(ink, frame, fit, Math.Max(residual, click));
    }

    public static PrintInk Ink(RgbImage working, WorkingFrame frame, double perMm, ImmutableArray<PixelPoint> outline) =>
        PrintFinder.Find(working, perMm, outline.Length == 0 ? [] : Areas.Fill([.. outline.Select(frame.ToWorking)], working.Size));
}
