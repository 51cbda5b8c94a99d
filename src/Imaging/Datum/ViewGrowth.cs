using System.Collections.Immutable;

namespace Pairbench.Imaging.Datum;

/// <summary>From a first view and the codes it rests on to all edges that can be seen.</summary>
internal sealed class ViewGrowth(PictureSizes sizes, ImmutableArray<DatumTarget> targets, ViewPrior prior)
{
    private const int MostRounds = 10;

    private const int LeastEdges = 40;

    private const double SeenLikeness = 0.5;

    // In modules. Edges drawn at random within the search would scatter by a third.
    private const double MostScatter = 0.28;

    // One edge in the picture is not independent of its neighbours: paper, light and blur are common to them. Each counts as a quarter.
    private const double Weight = 0.25;

    /// <param name="codes">Codes that were read, with the target that each is printed on.</param>
    /// <returns>Null where the edges do not bear the view out.</returns>
    public (FittedView Fitted, ImmutableArray<Sighting> Sightings)? From(PlaneView start, ImmutableArray<(int Target, PrintedCode Printed, ReadCode Read)> codes)
    {
        if (Fit(start, codes) is not { } fitted)
        {
            return null;
        }

        var picture = sizes.ForEdges(codes.Average(c => c.Read.ModulePx));
        ImmutableArray<Sighting> sightings = [];
        for (var round = 0; round < MostRounds; round++)
        {
            var seen = Look(picture, fitted, round == 0 ? [.. codes.Select(c => (c.Target, c.Printed))] : Seen(fitted), round == 0);
            if (seen.Length < LeastEdges || Fit(fitted, seen, (round == 0 ? 2 : 1) * picture.Step) is not var (next, shifted))
            {
                return null;
            }

            var settled = round >= 2 && next.Agreeing <= 1.01 * fitted.Agreeing;
            (fitted, sightings) = (next, shifted);
            if (settled)
            {
                break;
            }
        }

        return BearsOut(fitted, codes) ? (fitted, sightings) : null;
    }

    /// <summary>Whether a code is there, where the view has it.</summary>
    public bool Seen(FittedView fitted, int target, PrintedCode code)
    {
        var view = fitted.View;
        var side = view.Picture(target, code.At(0, 0)).DistanceTo(view.Picture(target, code.At(PrintedCode.Modules, 0)));
        return CodeLikeness.At(sizes.ForEdges(side / PrintedCode.Modules), code, (column, row) => view.Picture(target, code.At(column, row))) > SeenLikeness;
    }

    private ImmutableArray<(int Target, PrintedCode Printed)> Seen(FittedView fitted) =>
        [.. targets.SelectMany((t, i) => t.Codes.Where(c => Seen(fitted, i, c)).Select(c => (i, c)))];

    /// <summary>Fits twice: steps seem to lie a little towards the dark or the light, as blur meets the curve of the camera; the second time without what the steps of a code have of that in common.</summary>
    private (FittedView Fitted, ImmutableArray<Sighting> Sightings)? Fit(FittedView before, ImmutableArray<Sighting> seen, double scatterPx)
    {
        if (ViewFit.Of(before.View, seen, prior, Math.Max(scatterPx, 2 * before.Scatter)) is not { } first)
        {
            return null;
        }

        ImmutableArray<Sighting> shifted = [.. seen.GroupBy(Common).SelectMany(group => Shifted(first.View, [.. group], group.Key.Line))];
        var (lines, steps) = (Spread(first.View, shifted.Where(s => s.Line)), Spread(first.View, shifted.Where(s => !s.Line)));
        var loose = lines > 0 && steps > 0 ? Math.Clamp(steps / lines, 0.33, 3) : 1;
        shifted = [.. shifted.Select(s => s with { Loose = s.Line ? Math.Max(1, 1 / loose) : Math.Max(1, loose) })];
        return ViewFit.Of(first.View, shifted, prior, Math.Max(0.3, 2 * first.Scatter)) is { } second ? (second, shifted) : null;
    }

    private (int Target, int Code, bool Line) Common(Sighting s) => (s.Target, s.Line ? 0 : targets[s.Target].Codes.ToList().FindIndex(c => Within(c, s.Printed)), s.Line);

    private static IEnumerable<Sighting> Shifted(PlaneView view, Sighting[] group, bool line)
    {
        if (line || group.Length < 20)
        {
            return group;
        }

        double[] off = [.. group.Select(s => s.Residual(view.Picture(s.Target, s.Printed))).Order()];
        var common = off[off.Length / 2];
        return group.Select(s => s with { Seen = new PixelPoint(s.Seen.X - (common * s.NormalX), s.Seen.Y - (common * s.NormalY)) });
    }

    private static double Spread(PlaneView view, IEnumerable<Sighting> sightings)
    {
        double[] sizes = [.. sightings.Select(s => Math.Abs(s.Residual(view.Picture(s.Target, s.Printed)))).Order()];
        return sizes.Length < 20 ? 0 : Math.Max(0.02, 1.4826 * sizes[sizes.Length / 2]);
    }

    private FittedView? Fit(PlaneView start, ImmutableArray<(int Target, PrintedCode Printed, ReadCode Read)> codes)
    {
        var finders = codes.SelectMany(c => c.Printed.Finders.Zip(c.Read.Finders).SelectMany(f => new[]
        {
            new Sighting(c.Target, f.First, f.Second, 1, 0, 0, Weight),
            new Sighting(c.Target, f.First, f.Second, 0, 1, 0, Weight),
        })).ToArray();

        // Before the edges are looked at, the lens is left alone: its terms would follow what finder patterns are off by.
        var still = prior with { Uncertainty = [.. prior.Uncertainty.Select((u, p) => p is PlaneView.K1 or PlaneView.K2 or PlaneView.CentreX or PlaneView.CentreY ? u / 3 : u)] };
        return ViewFit.Of(start, finders, still, 3 * codes.Max(c => c.Read.SeenAt));
    }

    private ImmutableArray<Sighting> Look(GreyPicture picture, FittedView fitted, ImmutableArray<(int Target, PrintedCode Printed)> codes, bool alone)
    {
        var view = fitted.View;
        var all = targets.SelectMany((t, i) => t.Edges.Select(e => (Target: i, Edge: e))).ToArray();
        var seen = new Sighting?[all.Length];
        Parallel.For(0, all.Length, i =>
        {
            var (target, edge) = all[i];
            var (from, to) = (view.Picture(target, edge.From), view.Picture(target, edge.To));
            var length = from.DistanceTo(to);
            var clear = edge.ClearMm * length / edge.LengthMm;
            if (!(length > 0))
            {
                return;
            }

            var ofCode = codes.Any(c => c.Target == target && Within(c.Printed, edge));
            double search;
            if (alone)
            {
                if (!ofCode)
                {
                    return;
                }

                search = 0.5 * clear;
            }
            else
            {
                // Modules of a code that is there are where it is: they are not taken for their neighbours.
                var unsure = Unsure(fitted, target, edge, (from.Y - to.Y) / length, (to.X - from.X) / length);
                if (!ofCode && !(3 * unsure < 0.4 * clear))
                {
                    return;
                }

                search = Math.Min(0.45 * clear, Math.Max(1.5 * picture.Step, (4 * unsure) + picture.Step));
            }

            seen[i] = EdgeSight.Of(picture, view, target, edge, search) is { } s ? s with { Weight = Weight, Line = edge.LineMm > 0 } : null;
        });
        return Contrasting(all, seen);
    }

    /// <summary>Standard uncertainty of where the view has an edge, across it, in pixels.</summary>
    private static double Unsure(FittedView fitted, int target, PrintedEdge edge, double nx, double ny)
    {
        var slope = ViewFit.Slope(fitted.View, target, edge.Middle, nx, ny);
        double square = 0;
        for (var p = 0; p < slope.Length; p++)
        {
            for (var q = 0; q < slope.Length; q++)
            {
                square += slope[p] * fitted.Covariance[p, q] * slope[q];
            }
        }

        return Math.Sqrt(Math.Max(0, square));
    }

    /// <summary>Leaves out what is much fainter than the print elsewhere: the weave of a cloth, not ink.</summary>
    private static ImmutableArray<Sighting> Contrasting((int Target, PrintedEdge Edge)[] all, Sighting?[] seen)
    {
        var kept = ImmutableArray.CreateBuilder<Sighting>();
        foreach (var kind in Enumerable.Range(0, all.Length).Where(i => seen[i] is not null).GroupBy(i => all[i].Edge.LineMm > 0))
        {
            double[] contrasts = [.. kind.Select(i => seen[i]!.Value.Contrast).Order()];
            var least = 0.3 * contrasts[contrasts.Length / 2];
            kept.AddRange(kind.Where(i => seen[i]!.Value.Contrast >= least).Select(i => seen[i]!.Value));
        }

        return kept.ToImmutable();
    }

    private bool BearsOut(FittedView fitted, ImmutableArray<(int Target, PrintedCode Printed, ReadCode Read)> codes) =>
        fitted.Agreeing >= LeastEdges
        && fitted.Scatter < MostScatter * codes.Average(c => c.Read.ModulePx)
        && codes.All(c => Seen(fitted, c.Target, c.Printed));

    private static bool Within(PrintedCode code, PrintedEdge edge) => Within(code, edge.Middle);

    private static bool Within(PrintedCode code, PlanePoint place) =>
        Math.Abs(place.X - code.Text.Middle.X) < 0.51 * code.SideMm && Math.Abs(place.Y - code.Text.Middle.Y) < 0.51 * code.SideMm;
}
