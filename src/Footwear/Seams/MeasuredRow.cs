using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Rows;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Seams;

/// <summary>A stretch between two stitches that is not as the others are.</summary>
internal readonly record struct OddStretch(int From, int To, double LengthMm);

/// <summary>A row of stitches that was found, with its figures.</summary>
internal sealed class MeasuredRow
{
    /// <summary>A single stitch longer than this many pitches is long; common practice calls a gap of 1.6 to 1.7 pitches a skipped one.</summary>
    public const double LongFrom = 1.35;

    /// <summary>Relative uncertainty where the plane is known from a bar alone: a ruler is never quite in the seam's plane, and 12 degrees make 2 % (common practice, no source).</summary>
    private const double RulerTilt = 0.008;

    /// <summary>Fewer single stitches than these say nothing of how they vary.</summary>
    private const int FewestThatVary = 3;

    private const int Draws = 20_000;

    private const int DrawsOfLargest = 4_000;

    /// <summary>What a count of a row that hardly stands out may be off by, all alike: of such made-up rows one in five is counted wrongly, mostly by 1 to 3 (benchmarks/Seams).</summary>
    private static readonly ImmutableArray<int> OffWhereHardlySeen = [0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, -3, -1, 1, 3];

    private readonly RowPath _path;
    private readonly PlaneMapping _mapping;
    private readonly string _name;
    private readonly string _photo;
    private readonly bool _byBar;
    private readonly ImmutableArray<double> _single;

    public MeasuredRow(RowOf row, FoundRow found, PlaneMapping mapping, EvidencePhoto photo, string entry)
    {
        (Row, Found, _mapping, _name, _photo, _byBar) = (row, found, mapping, $"{entry}/{row.Id}", photo.File, photo.Scale is BarScale);
        _path = RowPath.Of([.. found.Marks.Select(m => m.Place)]);
        Distances = [.. _path.Along.Zip(_path.Along.Skip(1), (a, b) => b - a)];
        _single = [.. Distances.Where((_, i) => found.Marks[i + 1].Before == 1)];
    }

    public RowOf Row { get; }

    public FoundRow Found { get; }

    /// <summary>Whether the stitches stand out from their ground; else their count is not to be trusted.</summary>
    public bool IsPlain => Found.Explained >= RowFinder.HardlySeen;

    /// <summary>From each stitch to the next along the smooth row, in mm.</summary>
    public ImmutableArray<double> Distances { get; }

    public ImmutableArray<OddStretch> Skipped => [.. Distances.Select((d, i) => (d, i)).Where(s => Found.Marks[s.i + 1].Before > 1).Select(s => new OddStretch(s.i, s.i + 1, s.d))];

    public ImmutableArray<OddStretch> Long => [.. Distances.Select((d, i) => (d, i)).Where(s => Found.Marks[s.i + 1].Before == 1 && s.d > LongFrom * MedianDistance).Select(s => new OddStretch(s.i, s.i + 1, s.d))];

    private double MedianDistance => _single.IsEmpty ? Found.Pitch : Median.Of(_single.AsSpan());

    private bool Varies => _single.Length >= FewestThatVary;

    /// <summary>What the row is too short to tell.</summary>
    public IEnumerable<NotSeen> NotSeen()
    {
        if (!Varies)
        {
            yield return new NotSeen($"{Row.Id}.variation", $"{Row.Id}: fewer than {FewestThatVary} stitches follow on one another, which says nothing of how the pitch varies. Photograph more of the row, and draw its path further.", false);
        }
    }

    public IEnumerable<Figure> Figures()
    {
        var pitch = Pitch();
        yield return Figure("pitch", "Stitch pitch", pitch);
        yield return Figure("per-cm", "Stitches a centimetre", Measured.Ratio(Measured.Exact(10, "mm"), pitch, "/cm"));
        yield return Figure("per-inch", "Stitches an inch", Measured.Ratio(Measured.Exact(25.4, "mm"), pitch, "/[in_i]"));
        if (Varies)
        {
            yield return Figure("pitch-cv", "Variation of the pitch", Variation());
        }

        yield return Figure("stitches", "Stitches", Counted(Found.Marks.Length));
        yield return Figure("skipped", "Skipped stitches", Counted(Found.Missing));
        yield return Figure("long", "Long stitches", Counted(Long.Length));
        foreach (var figure in Wander())
        {
            yield return figure;
        }

        foreach (var figure in Row.Edge.IsEmpty ? [] : Margin())
        {
            yield return figure;
        }
    }

    /// <summary>Mean and least distance to the other row of a double row.</summary>
    public IEnumerable<Figure> Between(MeasuredRow twin)
    {
        ImmutableArray<PixelPoint> other = [.. twin.Found.Marks.Select(m => m.Pixel)];
        var noise = double.Hypot(Found.AcrossNoise, twin.Found.AcrossNoise);
        return ToLine(other, "twin", "Distance to the twin row", noise, []);
    }

    /// <summary>A count is exact where the row stands out.</summary>
    private Measured Counted(int count)
    {
        if (IsPlain)
        {
            return Measured.Exact(count, "1");
        }

        double[] draws = [.. Enumerable.Repeat(OffWhereHardlySeen, 10).SelectMany(o => o).Select(off => (double)Math.Max(0, count + off))];
        return Measured.Of(count, "1", $"hardly-seen:{_name}", Summary.Of(draws).StandardDeviation).WithSamples(draws);
    }

    private Measured Pitch()
    {
        var base_ = Chain(_mapping.ToPlane);
        var steps = Math.Max(1, Found.Marks.Sum(m => m.Before));
        var noise = Found.AlongNoise * Math.Sqrt(2) / steps;
        return _mapping.Evaluate("mm", map => Found.Pitch * Chain(map.ToPlane) / base_, [.. Tilt(Found.Pitch), new Contribution($"stitch-places:{_name}", Evaluation.TypeA, noise)]);
    }

    /// <summary>Spread of single stitches less that of placing them.</summary>
    private Measured Variation()
    {
        var mean = _single.Average();
        static double Square(double v) => v * v;
        double square = Square(100 * Summary.Of(_single.AsSpan()).StandardDeviation / mean), noise = 2 * Square(100 * Found.AlongNoise / mean);

        // A stitch placed too far on makes the distance before it longer and the one behind it shorter: so many distances say less of their spread than as many apart.
        var shared = square + noise > 0 ? noise / 2 / Math.Max(square, noise) : 0;
        return Root("%", square, noise, (_single.Length - 1) / (1 + (2 * shared * shared)), $"pitch-spread:{_name}", $"near-zero:{_name}/pitch", _ => []);
    }

    /// <summary>Off the smooth row: the spread less that of placing the stitches, so that noise does not make a straight row wander.</summary>
    private IEnumerable<Figure> Wander()
    {
        var degrees = Math.Max(1, _path.Off.Length - _path.Parameters);
        var square = _path.Off.Sum(o => o * o) / degrees;
        yield return Figure("wander-rms", "Wander off the smooth row, RMS", Rms(square, degrees));
        yield return Figure("wander-max", "Wander off the smooth row, largest", Largest(square, degrees));
    }

    /// <summary>
    /// The largest of many seems larger than it is, since placing them errs most where it is seen: each stitch lies nearer to the row than it is seen by what part of the spread placing makes
    /// (normal prior with the spread of the row, Efron and Morris 1973), and draws of all of them make the interval.
    /// </summary>
    private Measured Largest(double square, int degrees)
    {
        var noise = Found.AcrossNoise * Found.AcrossNoise;
        if (square == 0 && noise == 0)
        {
            return Measured.Exact(0, "mm");
        }

        ImmutableArray<Measured> known = [
            Measured.Of(Math.Max(square, noise), "mm2", $"wander-spread:{_name}", Math.Max(square, noise) * Math.Sqrt(2.0 / degrees), Evaluation.TypeA, degrees),
            Measured.Of(1, "1", [.. Tilt(1)])];
        var random = new MersenneTwister(1, false);
        var placing = new double[_path.Off.Length];
        var (largest, ofSpread) = (new double[DrawsOfLargest], new double[DrawsOfLargest]);
        foreach (var (draw, v) in new MonteCarlo(1).Sets(DrawsOfLargest, known).Index())
        {
            var wander = Math.Max(0, v[0] - noise);
            var kept = wander == 0 ? 0 : wander / (wander + noise);
            Normal.Samples(random, placing, 0, Math.Sqrt(kept * noise));
            ofSpread[draw] = kept * _path.Off.Max(Math.Abs);
            largest[draw] = v[1] * _path.Off.Zip(placing, (off, error) => Math.Abs((kept * off) + error)).Max();
        }

        Array.Sort(largest);
        var value = Median.Of(largest);
        ImmutableArray<Contribution> tilt = [.. Tilt(value)];
        double all = Summary.Of(largest).StandardDeviation, part = Math.Min(all, Summary.Of(ofSpread).StandardDeviation);
        var rest = (all * all) - (part * part) - tilt.Sum(t => t.Value * t.Value);
        return Measured.Of(value, "mm", [
            new Contribution($"wander-spread:{_name}", Evaluation.TypeA, part, degrees),
            .. tilt,
            new Contribution($"stitch-places:{_name}", Evaluation.TypeB, Math.Sqrt(Math.Max(0, rest)))]).WithSamples(largest);
    }

    private Measured Rms(double square, int degrees) =>
        Root("mm", square, Found.AcrossNoise * Found.AcrossNoise, degrees, $"wander-spread:{_name}", $"near-zero:{_name}", Tilt);

    /// <summary>
    /// Root of a mean square less that of placing the stitches. Near zero it bends and cannot be negative: there draws of both squares make the interval (JCGM 101). A row that spreads less than
    /// placing its stitches does is as uncertain as one that spreads just so: it proves no steady row.
    /// </summary>
    /// <param name="spread">Cause of the spread itself.</param>
    /// <param name="nearZero">Cause of what draws add near zero.</param>
    /// <param name="further">Causes in proportion to the root.</param>
    private Measured Root(string unit, double square, double noise, double degrees, string spread, string nearZero, Func<double, IEnumerable<Contribution>> further)
    {
        var root = Math.Sqrt(Math.Max(0, square - noise));

        // What a square is uncertain by, over twice the root: the smaller what is left, the more both weigh.
        var bend = Math.Max(root, 0.1 * Math.Sqrt(Math.Max(square, noise)));
        var straight = bend == 0 ? Measured.Exact(0, unit) : Measured.Of(root, unit, [
            new Contribution(spread, Evaluation.TypeA, square / bend / Math.Sqrt(2 * degrees), degrees),
            new Contribution($"stitch-places:{_name}", Evaluation.TypeB, noise / bend / Math.Sqrt(degrees)),
            .. further(root)]);
        return straight.IsExact || straight.CoverageInterval().Lower > 0
            ? straight
            : new MonteCarlo(1) { Digits = 1, AtLeast = Draws, AtMost = Draws }.Of(
                unit,
                nearZero,
                v => Math.Sqrt(Math.Max(0, v[0] - v[1])),
                Measured.Of(Math.Max(square, noise), $"{unit}2", spread, Math.Max(square, noise) * Math.Sqrt(2.0 / degrees), Evaluation.TypeA, degrees),
                Measured.Of(noise, $"{unit}2", $"stitch-places:{_name}", 2 * noise / Math.Sqrt(degrees))).At(root);
    }

    private IEnumerable<Figure> Margin()
    {
        // A click on the edge moves the margin near it; each corner of the edge is a click of its own.
        var click = _mapping.ClickSigmaPx * Math.Sqrt(_mapping.AreaOfPixel(Row.Edge[Row.Edge.Length / 2]));
        return ToLine(Row.Edge, "edge", "Margin to the panel edge", Found.AcrossNoise, [click]);
    }

    private IEnumerable<Figure> ToLine(ImmutableArray<PixelPoint> line, string id, string label, double noise, ImmutableArray<double> click)
    {
        var beside = Found.Marks.Select(m => m.Pixel).Where(p => LineDistance.Beside(p, line, _mapping)).ToImmutableArray();
        if (beside.IsEmpty)
        {
            yield break;
        }

        ImmutableArray<double> each = [.. beside.Select(p => LineDistance.Of(p, line, _mapping))];
        var nearest = beside[each.IndexOf(each.Min())];
        var corners = Math.Max(1, line.Length);
        yield return Figure($"{id}-mean", $"{label}, mean", _mapping.Evaluate("mm", map => beside.Average(p => LineDistance.Of(p, line, map)), [
            new Contribution($"stitch-places:{_name}", Evaluation.TypeA, noise / Math.Sqrt(beside.Length)),
            .. click.Select(c => new Contribution($"{id}-clicks:{_name}", Evaluation.TypeB, c / Math.Sqrt(corners))),
            .. Tilt(each.Average())]));
        var least = noise == 0 || beside.Length < FewestThatVary ? each.Min() : Math.Max(0, LeastOfMany.Of(each, noise));
        yield return Figure($"{id}-min", $"{label}, least", _mapping.Evaluate("mm", map => LineDistance.Of(nearest, line, map) + (least - each.Min()), [
            new Contribution($"stitch-places:{_name}", Evaluation.TypeA, noise),
            .. click.Select(c => new Contribution($"{id}-click:{_name}", Evaluation.TypeB, c)),
            .. Tilt(least)]));
    }

    private IEnumerable<Contribution> Tilt(double value) => _byBar ? [new Contribution($"ruler-tilt:{_photo}", Evaluation.TypeB, RulerTilt * value)] : [];

    private double Chain(Func<PixelPoint, PlanePoint> toPlane)
    {
        // Every third stitch or so: the zigzag of single stitches is not the row's length.
        var marks = Found.Marks.Where((_, i) => i % 3 == 0 || i == Found.Marks.Length - 1).Select(m => toPlane(m.Pixel)).ToArray();
        return marks.Zip(marks.Skip(1), (a, b) => a.DistanceTo(b)).Sum();
    }

    private Figure Figure(string id, string label, Measured measured) => new($"{Row.Id}.{id}", $"{label}, {Row.Id}", measured);
}
