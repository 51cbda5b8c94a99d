using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Regions;

namespace Pairbench.Footwear.Underfoot;

/// <summary>Which material touches the ground, and how much of it.</summary>
public sealed class UnderfootExamination : Examination<UnderfootEvidence>
{
    /// <summary>Id of the table of places at which a dab would settle most: number, what is asked, and <c>x y</c> in pixels of the photograph.</summary>
    public const string InDoubt = "in-doubt";

    public override string Name => "underfoot";

    public override string Title => "Underfoot";

    public override int Order => 400;

    public override bool LooksAtSubject => false;

    public override Outcome Examine(UnderfootEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var (photo, mapping) = Open(evidence, surroundings.Photos);
        var faults = MarkChecks.Of(evidence, photo.Size).ToImmutableArray();
        if (faults.Length > 0)
        {
            throw new FaultsException(faults);
        }

        cancellation.ThrowIfCancellationRequested();
        return evidence.Kind == UnderfootKind.Print
            ? OfPrint(evidence, photo, mapping)
            : OfSole(evidence, photo, mapping, surroundings.Photos, cancellation);
    }

    /// <summary>Without a scale a sole still has its shares; a print has but an area.</summary>
    private static (IPhotograph Picture, PlaneMapping Mapping) Open(UnderfootEvidence evidence, IPhotoSource photos)
    {
        if (evidence.Photo.Scale is not null || evidence.Kind == UnderfootKind.Print)
        {
            return evidence.Photo.Open(photos, "photo");
        }

        const double usualSoleMm = 280;
        var picture = photos.Open(evidence.Photo.File);
        PixelPoint[] marked = [.. evidence.Outline, .. evidence.Dabs.SelectMany(d => d.Path), .. evidence.Regions.SelectMany(r => r.Polygon)];
        var extent = marked.Length > 0 ? double.Hypot(marked.Max(p => p.X) - marked.Min(p => p.X), marked.Max(p => p.Y) - marked.Min(p => p.Y)) : 0;
        var longest = Math.Max(picture.Size.Width, picture.Size.Height);
        return (picture, PlaneMapping.Unscaled(picture, Math.Clamp(extent, 0.3 * longest, longest) / usualSoleMm));
    }

    private static Outcome OfSole(UnderfootEvidence evidence, IPhotograph photo, PlaneMapping mapping, IPhotoSource photos, CancellationToken cancellation)
    {
        ImmutableArray<Dab> dabs = [.. evidence.Dabs.Select(d => new Dab((byte)d.Material, d.Path, d.RadiusPx))];
        ImmutableArray<Zone> zones = [.. evidence.Regions.Select(r => new Zone((byte)r.Material, r.Polygon, r.Touching))];
        var outline = evidence.Outline;
        var words = new Words(evidence.Photo.File, mapping.Assumptions);
        if (zones.Any(z => z.Label != Dab.NotTouching))
        {
            words.Assumptions.Add("A material that was traced is taken to be nowhere outside its zones, unless it was dabbed there.");
        }

        var (working, frame, perMm) = Decode(photo, mapping, outline, dabs, zones);
        SurfacePicture surface;
        bool cut;
        if (outline.Length > 0)
        {
            surface = SurfacePicture.Of(working, frame, outline, perMm);
            cut = outline.Any(p => p.X < 2 || p.Y < 2 || p.X > photo.Size.Width - 2 || p.Y > photo.Size.Height - 2);
        }
        else
        {
            var found = SurfaceFinder.Find(working, frame, dabs, zones);
            surface = SurfacePicture.Of(working, frame, found, perMm);
            cut = found.ReachesFrame;
            words.Assumptions.Add("No outline was traced: the edge of the sole was found against the bench; look at it in the plate, and trace it where it runs wrong.");
        }

        cancellation.ThrowIfCancellationRequested();
        RegionMap map;
        Stepping? stepping = null;
        if (evidence.Print is { } print)
        {
            var overlay = PrintOverlay.Of(print, photos, photo.Size, mapping, frame, perMm);
            map = RegionFinder.Find(surface, dabs, zones, outline, mapping.ClickSigmaPx, overlay.LogOdds);
            stepping = new Stepping(print.Photo.File, overlay.MisalignmentPx);
            cut |= overlay.ReachesFrame;
            words.OfPrint(print.Photo.File, print.LoadN);
        }
        else
        {
            map = RegionFinder.Find(surface, dabs, zones, outline, mapping.ClickSigmaPx);
            if (dabs.All(d => d.Label != Dab.NotTouching))
            {
                words.Cautions.Add("No groove is dabbed: which parts do not touch was judged by relief and shade alone. Two to four dabs of clear in the grooves narrow the interval.");
            }
        }

        if (dabs.Length > 0 && map.ContactMisfit > 0.25)
        {
            words.Cautions.Add("The dabs on grooves and on what touches look alike to the program; the interval is wide. Dab more of both, or lay a print over the photograph.");
        }

        var areas = new GroundAreas(map, mapping, evidence.Photo.File, outline.Length > 0, stepping);
        if (areas.Nothing)
        {
            throw new FaultsException(new Fault("photo", "nothing was found that touches the ground", "dab what touches, or check that the dabs lie on the sole"));
        }

        ImmutableArray<Figure> figures = [.. areas.Figures().Where(f => evidence.Photo.Scale is not null || f.Measured.Unit == "%")];
        words.Unlabelled(areas.UnknownShare);
        var inDoubt = map.InDoubt(dabs, contactIsGiven: evidence.Print is not null);
        return words.Outcome(figures, [Plates.Regions(map.ToLabels(photo.Size)), Plates.Overlay(map, working, frame, inDoubt)], cut) with { Tables = [.. Asked(inDoubt)] };
    }

    private static IEnumerable<Table> Asked(ImmutableArray<DoubtfulPlace> places)
    {
        if (!places.IsEmpty)
        {
            yield return new Table(
                InDoubt,
                "Where a dab would narrow the interval most",
                [new("place", "Place"), new("asks", "What is in doubt"), new("pixel", "In the photograph, px")],
                [.. places.Select((p, i) => ImmutableArray.Create<Cell>(
                    (i + 1).ToString(CultureInfo.InvariantCulture),
                    p.Kind == DoubtKind.Contact ? "does it touch?" : "which material is it?",
                    new Cell.Places([p.Place], 0)))]);
        }
    }

    private static Outcome OfPrint(UnderfootEvidence evidence, IPhotograph photo, PlaneMapping mapping)
    {
        var outline = evidence.Outline;
        var words = new Words(evidence.Photo.File, mapping.Assumptions);
        words.OfPrint(evidence.Photo.File, evidence.LoadN);
        var (working, frame, perMm) = Decode(photo, mapping, [], [], []);
        var ink = PrintOverlay.Ink(working, frame, perMm, outline);
        var surface = SurfacePicture.OfNeighbourhood(working, frame, ink.Neighbourhood, perMm);
        var map = RegionFinder.Find(surface, [], [], [], 0, p => ink.LogOdds(frame.ToWorking(p)));
        var areas = new GroundAreas(map, mapping, evidence.Photo.File, true, new Stepping(evidence.Photo.File, 0));
        if (areas.Nothing)
        {
            throw new FaultsException(new Fault("photo", "no print was found on the paper", "photograph the print on plain paper, in even light"));
        }

        return words.Outcome([areas.ContactArea()], [Plates.Regions(map.ToLabels(photo.Size))], ink.ReachesFrame);
    }

    /// <summary>The whole photograph at the working size: about 2.2 pixels for each millimetre at the sole.</summary>
    private static (RgbImage Picture, WorkingFrame Frame, double PixelsPerMm) Decode(IPhotograph photo, PlaneMapping mapping, ImmutableArray<PixelPoint> outline, ImmutableArray<Dab> dabs, ImmutableArray<Zone> zones)
    {
        var points = outline.Length > 0 ? outline : [.. dabs.Where(d => d.Label != Dab.NotTouching).SelectMany(d => d.Path), .. zones.SelectMany(z => z.Polygon)];
        var middle = points.Length > 0 ? new PixelPoint(points.Average(p => p.X), points.Average(p => p.Y)) : new PixelPoint(photo.Size.Width / 2.0, photo.Size.Height / 2.0);
        double perMm;
        try
        {
            perMm = 1 / Math.Sqrt(Math.Abs(mapping.AreaOfPixel(middle)));
        }
        catch (ScaleException e)
        {
            throw new FaultsException(new Fault("photo.scale." + e.Field, e.Message, e.WouldBeRight));
        }

        var longest = Math.Max(photo.Size.Width, photo.Size.Height);
        var wanted = double.IsFinite(perMm) && perMm > SurfacePicture.WantedPixelsPerMm ? (int)Math.Clamp(longest * SurfacePicture.WantedPixelsPerMm / perMm, 200, 2400) : Math.Min(longest, 2400);
        var picture = photo.Decode(wanted);
        var step = (photo.Size.Width / (double)picture.Width + photo.Size.Height / (double)picture.Height) / 2;
        return (picture, new WorkingFrame(0, 0, step), perMm / step);
    }

    /// <summary>What the outcome says in words.</summary>
    private sealed class Words(string photo, ImmutableArray<string> assumptions)
    {
        public List<string> Assumptions { get; } = [.. assumptions];

        public List<string> Cautions { get; } = [];

        public void OfPrint(string print, double? loadN)
        {
            Assumptions.Add(loadN is { } load
                ? string.Create(CultureInfo.InvariantCulture, $"The print {print} was made under a load of {load:0} N; the contact area grows with the load.")
                : $"The load of the print {print} is not stated; the contact area grows with the load. Full body weight on one foot is assumed.");
            Assumptions.Add(string.Create(CultureInfo.InvariantCulture, $"Stepping on twice moves the contact area of a print by 3 to 7 %: {Stepping.AreaPct:0} % is taken as standard uncertainty. Repeated prints narrow it."));
        }

        public void Unlabelled(double share)
        {
            if (share > 0.001)
            {
                Cautions.Add(string.Create(CultureInfo.InvariantCulture, $"{100 * share:0.0} % of what touches bears no label: it counts as other and widens the interval. Dab or trace it."));
            }
        }

        public Outcome Outcome(ImmutableArray<Figure> figures, ImmutableArray<Plate> plates, bool cut) => new()
        {
            Figures = figures,
            Plates = plates,
            Assumptions = [.. Assumptions],
            Cautions = cut ? [.. Cautions, $"The sole or print runs out of the picture {photo}: the areas are of the visible part only."] : [.. Cautions],
            NotSeen = cut ? [new NotSeen("whole-sole", "The sole or print is cut by the frame of the picture; photograph the whole of it.", true)] : [],
            Basis = [
                new Basis(BasisKind.Standard, "JCGM 100, Guide to the expression of uncertainty in measurement", "2008"),
                new Basis(BasisKind.Practice, "share of a material: its area in contact with the ground over all area in contact; grooves do not touch"),
            ],
        };
    }
}

/// <summary>A print's repeatability and how well it lies on the photograph.</summary>
/// <param name="MisalignmentPx">Standard uncertainty of the overlay in photograph pixels.</param>
internal sealed record Stepping(string Print, double MisalignmentPx)
{
    public const double AreaPct = 5;
}
