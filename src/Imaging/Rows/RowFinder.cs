using System.Collections.Immutable;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// Finds every mark of a row that repeats along a rough path, without being told what a mark looks like: lighter or darker than its ground, of one tone with it,
/// in relief, one spot a pitch or two.
/// </summary>
/// <remarks>
/// The strip along the path is straightened in millimetres, once with the texture of the ground evened (<see cref="GroundTexture"/>), once as it is. Where it is
/// like itself after some distance gives pitches to try and the row's middle. For each, the mark's own look is learnt from the strip (seeded by the stretch that
/// is most like the others, then by turns matched and averaged), and the chain of marks found by dynamic programming with missing ones allowed. The smallest
/// pitch that explains nearly as much as any is taken. A small network (<see cref="RowSight"/>) sees single stitches: the likeliest chain of them is told instead where it is
/// much likelier, and where no row stands out thread must be seen.
/// </remarks>
public static class RowFinder
{
    /// <summary>Smallest and largest pitch that is looked for, in mm.</summary>
    public const double LeastPitch = 1.2;
    public const double MostPitch = 6.5;

    /// <summary>How far the row may lie from the path, in mm.</summary>
    public const double HalfWidth = 3.0;

    private const double Beyond = 7;

    /// <summary>Of fewer marks none is told.</summary>
    private const int LeastMarks = 4;

    /// <summary>Half of the strip along the middle of what stands out, in mm.</summary>
    private const double StandingHalf = 1.2;

    /// <summary>A row that explains so much of the evened strip needs no second look.</summary>
    private const double Plain = 0.15;

    /// <summary>Where marks alike explain less, noise may be followed as well as a row: thread must be seen there, or none is told.</summary>
    public const double HardlySeen = 0.16;

    /// <param name="picture">The whole picture, full size.</param>
    /// <param name="path">Rough path along the row in pixels, at least two points.</param>
    /// <param name="expectedPitch">In mm, where it is known: pitches far from it are not looked for.</param>
    /// <returns>Null where nothing repeats along the path.</returns>
    /// <exception cref="ScaleException">The path lies beyond the horizon of the plane.</exception>
    public static FoundRow? Find(RgbImage picture, IPlaneMap map, IReadOnlyList<PixelPoint> path, double? expectedPitch = null)
    {
        ArgumentNullException.ThrowIfNull(picture);
        ArgumentNullException.ThrowIfNull(map);
        ArgumentNullException.ThrowIfNull(path);
        return Unjudged(picture, map, path, expectedPitch) is { } found
            ? JudgedPlace.Marks(found.Places) is var judged && judged.SequenceEqual(found.Row.Marks) ? found.Row : found.Through(judged)
            : null;
    }

    /// <summary>The row before its places are judged one by one, these places, and how a row runs through other marks.</summary>
    internal static (FoundRow Row, ImmutableArray<JudgedPlace> Places, Func<ImmutableArray<RowMark>, FoundRow> Through)? Unjudged(RgbImage picture, IPlaneMap map, IReadOnlyList<PixelPoint> path, double? expectedPitch)
    {
        var guide = Guide(map, path);
        var pixel = Math.Sqrt(path.Average(map.AreaOfPixel));
        var step = Math.Clamp(pixel, 0.06, 0.12);
        var planes = new PicturePlanes(picture, map);
        var evened = EvenedPlanes.Of(planes, guide, step);
        var (least, most) = expectedPitch is { } e ? (0.65 * e, 1.5 * e) : (LeastPitch, MostPitch);
        var along = (-Beyond + 1, guide.Length + Beyond - 1, step);
        FoundRow? best = null;
        var doubtful = new List<FoundRow>();
        var wide = RowStrip.Of(evened, guide, _ => 0, along, HalfWidth, 0.12);
        var relief = Relief.Of(wide, 9, 0.16);
        Follow(evened, relief, pitch => RowCentre.Of(wide, relief, pitch));
        if (best is not { Explained: > Plain })
        {
            // A row that swings is less like itself along the guide than along its own middle.
            var standing = RowCentre.Standing(wide, Relief.Of(wide, 6, 0.16));
            Follow(evened, Relief.Of(RowStrip.Of(evened, guide, standing, along, StandingHalf, 0.12), 9, 0.16), _ => standing);
        }

        if (best is not { Explained: > Plain })
        {
            var asItIs = RowStrip.Of(planes, guide, _ => 0, along, HalfWidth, 0.12);
            var plain = Relief.Of(asItIs, 9, 0.08);
            Follow(planes, plain, pitch => RowCentre.Of(asItIs, plain, pitch));
        }

        var sight = RowSight.Of(planes, guide);
        var choice = new RowChoice(sight);
        var peaks = sight.Peaks(guide.Length);
        var seen = Seen(SeenRow.Of(peaks, least, most));
        if (choice.Of(best, seen is null ? doubtful : [.. doubtful, seen]) is not { } told)
        {
            return null;
        }

        if (sight.MiddlesFrom(told) is var shift && shift != 0)
        {
            told = Through(Moved(told, [.. told.Marks.Select(_ => shift)]).Marks);
        }

        told = seen is null ? told : With(told, choice.Joined(told, seen));
        told = With(told, choice.Apart(told));
        var within = Within(told);
        if (within.Length < LeastMarks)
        {
            return null;
        }

        told = With(told, within);
        told = With(told, Ended(told));
        var placed = Placed(told);
        return (placed, JudgedPlace.Of(placed, guide, map, sight, TrialOf(placed.Marks)), marks => Placed(Through(marks)));

        // Within the path and half a pitch beyond its ends marks count.
        bool IsWithin(double along, FoundRow row) => along > -0.5 * row.Pitch && along < guide.Length + (0.5 * row.Pitch);

        ImmutableArray<RowMark> Within(FoundRow row) => [.. row.Marks.Where(m => IsWithin(m.Along, row)).Select((m, i) => i == 0 ? m with { Before = 0 } : m)];

        // The row through other marks, where they are others.
        FoundRow With(FoundRow row, ImmutableArray<RowMark> marks) => marks.Length == row.Marks.Length ? row : Through(marks);

        ImmutableArray<RowMark> Ended(FoundRow row)
        {
            var counted = peaks.Where(p => IsWithin(p.Along, row)).ToImmutableArray();
            var (ahead, beyond) = (choice.Ahead(row, counted), choice.Beyond(row, counted, guide.Length));
            RowMark New(SeenRow.Peak peak, int before) => At(peak.Along, peak.Across, new RowMark { Before = before, Likeness = 1 });
            return
            [
                .. Enumerable.Range(1, ahead.Length).Select(k => New(ahead[^k].Peak, k == 1 ? 0 : ahead[^(k - 1)].Before)),
                .. row.Marks.Select((m, i) => i == 0 && ahead.Length > 0 ? m with { Before = ahead[0].Before } : m),
                .. beyond.Select(m => New(m.Peak, m.Before)),
            ];
        }

        FoundRow Placed(FoundRow row)
        {
            var moved = Moved(row, RowPlacing.Of(row, peaks));
            return moved.Marks.Length > 1 ? moved with { Pitch = RowPath.Of([.. moved.Marks.Select(m => m.Place)]).Length / moved.Marks.Sum(m => m.Before) } : moved;
        }

        FoundRow Moved(FoundRow row, ImmutableArray<double> by)
        {
            var centre = RowCentre.Through(row.Marks);
            return row with { Marks = [.. row.Marks.Zip(by, (m, d) => d == 0 ? m : At(m.Along + d, m.Across + centre(m.Along + d) - centre(m.Along), m))] };
        }

        FoundRow? Seen(ImmutableArray<(SeenRow.Peak Peak, int Before)> chain) => chain.IsEmpty
            ? null
            : Through([.. chain.Select(m => At(m.Peak.Along, m.Peak.Across, new RowMark { Before = m.Before, Likeness = 1 }))]);

        RowMark At(double s, double across, RowMark mark)
        {
            var place = guide.At(s, across);
            return mark with { Along = s, Across = across, Place = place, Pixel = map.ToPicture(place) };
        }

        FoundRow Through(ImmutableArray<RowMark> marks) =>
            TrialOf(marks).Through((marks[^1].Along - marks[0].Along) / marks.Sum(m => m.Before), marks);

        RowTrial TrialOf(ImmutableArray<RowMark> marks) => new(planes, evened, map, guide, evened, _ => RowCentre.Through(marks));

        void Follow(IRowPlanes source, Relief relief, Func<double, Func<double, double>> centre)
        {
            var (all, few, light) = Likeness.ByLag(relief, (int)Math.Min(MostPitch * 1.1 / step, relief.Count / 3.0), 8);
            ImmutableArray<double> lags = [.. new[] { (light, 4), (few, 4), (all, 3) }.SelectMany(l => Likeness.Peaks(l.Item1, (int)(least / step), l.Item2)).Select(l => l * step)];
            foreach (var pitch in Candidates(lags, least, most))
            {
                var found = new RowTrial(planes, evened, map, guide, source, centre).Of(pitch, best?.Explained ?? 0);
                if (found is { Explained: <= HardlySeen })
                {
                    doubtful.Add(found);
                }

                if (found is not null && (best is null || Better(found, best)))
                {
                    best = found;
                }
            }
        }
    }

    /// <summary>The smooth curve along a rough path on which a row is looked for.</summary>
    internal static GuideCurve Guide(IPlaneMap map, IReadOnlyList<PixelPoint> path) => GuideCurve.Of([.. path.Select(map.ToPlane)], Beyond, 1.5);

    /// <summary>The peaks, with halves and doubles of the best.</summary>
    private static List<double> Candidates(ImmutableArray<double> peaks, double least, double most)
    {
        var all = new List<double>();
        foreach (var pitch in peaks.Concat(peaks.Take(1).SelectMany(p => new[] { p / 2, 2 * p })))
        {
            if (pitch >= least && pitch <= most && all.All(p => Math.Abs(p - pitch) > 0.06 * pitch))
            {
                all.Add(pitch);
            }
        }

        return all;
    }

    /// <summary>More explained is better, in steadier steps, nearer to the path (of a double row the nearer one is meant); of two that explain nearly the same, the smaller pitch.</summary>
    private static bool Better(FoundRow one, FoundRow other)
    {
        const double nearly = 0.92;
        const double unsteady = 0.16;
        const double aside = 1.6;
        static double Worth(FoundRow row) => row.Explained
            * (row.Marks[^1].Along - row.Marks[0].Along)
            * Math.Max(0.02, 1 - Math.Pow(row.Jitter / unsteady, 2))
            * Math.Exp(-0.5 * Math.Pow(row.Marks.Average(m => m.Across) / aside, 2));
        return one.Pitch < other.Pitch * 0.9 ? Worth(one) > nearly * Worth(other)
            : one.Pitch > other.Pitch * 1.1 ? nearly * Worth(one) > Worth(other)
            : Worth(one) > Worth(other);
    }
}
