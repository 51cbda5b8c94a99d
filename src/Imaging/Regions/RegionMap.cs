using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>What a doubt about a region comes from.</summary>
public enum DoubtKind
{
    /// <summary>Whether a place touches.</summary>
    Contact,

    /// <summary>Which material a place is of.</summary>
    Label,

    /// <summary>Where a traced line runs.</summary>
    Boundary,
}

/// <summary>One independent way in which the division may be wrong, at one standard uncertainty.</summary>
/// <param name="Change">Change of the touching area by label, the unlabelled last, in units of the area of a photograph pixel that was asked for.</param>
public sealed record RegionDoubt(DoubtKind Kind, string Family, ImmutableArray<double> Change);

/// <summary>Touching area by label with its doubts.</summary>
/// <param name="Touching">By label in the order of <see cref="RegionMap.Labels"/>, the unlabelled last.</param>
/// <param name="Whole">Area of the whole surface.</param>
public sealed record RegionAreas(ImmutableArray<double> Touching, double Whole, ImmutableArray<RegionDoubt> Doubts);

/// <summary>A surface divided into touching materials and what does not touch, with how sure that is at every place.</summary>
public sealed class RegionMap
{
    /// <summary>In a label map: touches, but of what is not known.</summary>
    public const byte Unknown = 255;

    /// <summary>Width of the blocks within which mistakes go together, in mm.</summary>
    private const double BlockMm = 25;

    private readonly Plane _contact;
    private readonly ImmutableArray<RegionTrial> _trials;
    private readonly ImmutableArray<TracedLine> _lines;
    private readonly Lazy<double[][]> _cellCounts;

    internal RegionMap(SurfacePicture surface, ImmutableArray<byte> labels, Plane contactLogOdds, Plane[] material, ImmutableArray<RegionTrial> trials, ImmutableArray<TracedLine> lines, double contactMisfit, double labelMisfit)
    {
        Surface = surface;
        Labels = labels;
        _contact = contactLogOdds;
        _trials = trials;
        _lines = lines;
        Touching = contactLogOdds.Map(v => 1 / (1 + MathF.Exp(-v)));
        Material = material;
        ContactMisfit = contactMisfit;
        _cellCounts = new Lazy<double[][]>(CountCells);
        LabelMisfit = labelMisfit;
    }

    public SurfacePicture Surface { get; }

    /// <summary>The labels found, ascending.</summary>
    public ImmutableArray<byte> Labels { get; }

    /// <summary>Mean probability by which the dabs on contact contradict each other: each is asked with itself left out. 0 to 1.</summary>
    public double ContactMisfit { get; }

    /// <summary>Mean probability by which the dabs on materials contradict each other: each is asked with itself left out. 0 to 1.</summary>
    public double LabelMisfit { get; }

    /// <summary>Probability of touching.</summary>
    internal Plane Touching { get; }

    /// <summary>Posterior by label, then that of none of them.</summary>
    internal Plane[] Material { get; }

    /// <summary>Touching areas and their doubts under a scale.</summary>
    /// <param name="areaOfPixel">Area of one photograph pixel at a place of the photograph.</param>
    public RegionAreas Measure(Func<PixelPoint, double> areaOfPixel)
    {
        ArgumentNullException.ThrowIfNull(areaOfPixel);
        var cells = Cells(areaOfPixel);
        int width = Surface.Width, height = Surface.Height, parts = Labels.Length + 1;
        var block = Math.Max(4, (int)(BlockMm * Surface.PixelsPerMm));
        int across = (width + block - 1) / block, down = (height + block - 1) / block;
        var touching = new double[parts];
        var byBlock = new double[across * down, parts];
        var labelByBlock = new double[across * down, parts, parts];
        double whole = 0;
        var q = new double[parts];
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                var i = (y * width) + x;
                if (!Surface.Inside[i])
                {
                    continue;
                }

                var area = cells[((y / Cell) * ((width + Cell - 1) / Cell)) + (x / Cell)];
                double p = Touching.Values[i], doubt = p * (1 - p) * area;
                var b = ((y / block) * across) + (x / block);
                whole += area;
                for (var k = 0; k < parts; k++)
                {
                    q[k] = Material[k].Values[i];
                    touching[k] += area * p * q[k];
                    byBlock[b, k] += doubt * q[k];
                }

                for (var k = 0; k < parts; k++)
                {
                    if (q[k] * (1 - q[k]) < 1e-4)
                    {
                        continue;
                    }

                    for (var j = 0; j < parts; j++)
                    {
                        labelByBlock[b, k, j] += area * p * q[j] * ((j == k ? 1 : 0) - q[k]);
                    }
                }
            }
        }

        var doubts = ImmutableArray.CreateBuilder<RegionDoubt>();
        Add(DoubtKind.Contact, "contact-all", k => Total(byBlock, k));
        for (var k = 0; k < parts; k++)
        {
            var own = k;
            Add(DoubtKind.Contact, "contact-label", j => j == own ? Total(byBlock, own) : 0);
            Add(DoubtKind.Label, "label-all", j => Enumerable.Range(0, across * down).Sum(b => labelByBlock[b, own, j]));
        }

        for (var b = 0; b < across * down; b++)
        {
            var here = b;
            Add(DoubtKind.Contact, "contact-block", k => byBlock[here, k]);
            for (var k = 0; k < parts; k++)
            {
                var own = k;
                Add(DoubtKind.Label, "label-block", j => labelByBlock[here, own, j]);
            }
        }

        foreach (var trial in _trials)
        {
            Add(trial.Kind, trial.Kind == DoubtKind.Contact ? "contact-dab" : "label-dab", k => trial.Change[k] * touching.Sum());
        }

        // Dabs that contradict each other: as much of each material as they do may be taken wrongly.
        for (var k = 0; k < parts; k++)
        {
            var own = k;
            Add(DoubtKind.Contact, "contact-misfit", j => j == own ? ContactMisfit * touching[own] : 0);
            Add(DoubtKind.Label, "label-misfit", j => LabelMisfit * ((j == own ? touching[own] : 0) - (touching[own] * touching[j] / Math.Max(1e-9, touching.Sum()))));
            Add(DoubtKind.Contact, "floor", j => j == own ? touching[own] : 0);
        }

        foreach (var line in _lines)
        {
            var change = line.Change(this, areaOfPixel);
            Add(DoubtKind.Boundary, "line", k => change[k]);
        }

        return new RegionAreas([.. touching], whole, doubts.ToImmutable());

        void Add(DoubtKind kind, string family, Func<int, double> change)
        {
            var values = Enumerable.Range(0, parts).Select(change).ToImmutableArray();
            if (values.Any(v => v != 0))
            {
                doubts.Add(new RegionDoubt(kind, family, values));
            }
        }

        static double Total(double[,] byBlock, int k)
        {
            double sum = 0;
            for (var b = 0; b < byBlock.GetLength(0); b++)
            {
                sum += byBlock[b, k];
            }

            return sum;
        }
    }

    /// <summary>At most three places at which a dab would settle most, the best first; none where a dab would change little.</summary>
    /// <param name="dabs">Those that are there.</param>
    /// <param name="contactIsGiven">Contact is known from elsewhere, such as a print, and is not asked.</param>
    public ImmutableArray<DoubtfulPlace> InDoubt(ImmutableArray<Dab> dabs, bool contactIsGiven = false) => DoubtfulPlaces.Of(this, dabs, contactIsGiven);

    /// <summary>Touching area by label under a scale, the unlabelled last, without doubts.</summary>
    public ImmutableArray<double> Touch(Func<PixelPoint, double> areaOfPixel)
    {
        ArgumentNullException.ThrowIfNull(areaOfPixel);
        var cells = Cells(areaOfPixel);
        var counts = _cellCounts.Value;
        return [.. counts.Select(c => c.Zip(cells, (n, a) => n * a).Sum())];
    }

    /// <summary>The division at the size of the photograph: the label where it touches, <see cref="Unknown"/> where it touches and none fits, 0 elsewhere.</summary>
    public LabelMap ToLabels(PixelSize photograph) => ToLabels(photograph, new WorkingFrame(0, 0, 1));

    /// <summary>The same for a picture that lies in the photograph as <paramref name="frame"/> says.</summary>
    public LabelMap ToLabels(PixelSize photograph, WorkingFrame frame)
    {
        var labels = new byte[photograph.Count];
        Parallel.For(0, photograph.Height, y =>
        {
            for (var x = 0; x < photograph.Width; x++)
            {
                var w = Surface.Frame.ToWorking(frame.ToPhoto(new PixelPoint(x + 0.5, y + 0.5)));
                int ix = (int)Math.Floor(w.X), iy = (int)Math.Floor(w.Y);
                if (ix < 0 || iy < 0 || ix >= Surface.Width || iy >= Surface.Height || !Surface.Inside[(iy * Surface.Width) + ix] || Between(_contact, w.X - 0.5, w.Y - 0.5) <= 0)
                {
                    continue;
                }

                var best = 0;
                for (var k = 1; k < Material.Length; k++)
                {
                    best = Material[k][ix, iy] > Material[best][ix, iy] ? k : best;
                }

                labels[((long)y * photograph.Width) + x] = best < Labels.Length ? Labels[best] : Unknown;
            }
        });
        return new LabelMap(photograph, labels);
    }

    private const int Cell = 16;

    private double[] Cells(Func<PixelPoint, double> areaOfPixel)
    {
        int across = (Surface.Width + Cell - 1) / Cell, down = (Surface.Height + Cell - 1) / Cell;
        var cells = new double[across * down];
        var each = Surface.Frame.Step * Surface.Frame.Step;
        for (var y = 0; y < down; y++)
        {
            for (var x = 0; x < across; x++)
            {
                cells[(y * across) + x] = each * areaOfPixel(Surface.Frame.ToPhoto(new PixelPoint((x + 0.5) * Cell, (y + 0.5) * Cell)));
            }
        }

        return cells;
    }

    /// <summary>Touching working pixels by label and cell.</summary>
    private double[][] CountCells()
    {
        int across = (Surface.Width + Cell - 1) / Cell, down = (Surface.Height + Cell - 1) / Cell;
        var counts = Material.Select(_ => new double[across * down]).ToArray();
        for (var i = 0; i < Surface.Inside.Length; i++)
        {
            if (Surface.Inside[i])
            {
                var cell = (i / Surface.Width / Cell * across) + (i % Surface.Width / Cell);
                for (var k = 0; k < Material.Length; k++)
                {
                    counts[k][cell] += Touching.Values[i] * Material[k].Values[i];
                }
            }
        }

        return counts;
    }

    private static float Between(Plane plane, double x, double y)
    {
        x = Math.Clamp(x, 0, plane.Width - 1.001);
        y = Math.Clamp(y, 0, plane.Height - 1.001);
        int ix = (int)x, iy = (int)y;
        float fx = (float)(x - ix), fy = (float)(y - iy);
        int jx = Math.Min(ix + 1, plane.Width - 1), jy = Math.Min(iy + 1, plane.Height - 1);
        var upper = plane[ix, iy] + (fx * (plane[jx, iy] - plane[ix, iy]));
        var lower = plane[ix, jy] + (fx * (plane[jx, jy] - plane[ix, jy]));
        return upper + (fy * (lower - upper));
    }
}

/// <summary>What leaving one dab out changes.</summary>
/// <param name="Change">Change of the touching area by label, the unlabelled last, as a part of the touching area.</param>
internal sealed record RegionTrial(DoubtKind Kind, ImmutableArray<double> Change);

/// <summary>A corner of a traced line with the tremor of the hand.</summary>
/// <param name="Label">The label inside; the outline of the surface has none.</param>
/// <param name="SigmaPx">Standard uncertainty of the corner square to the line, in photograph pixels.</param>
internal sealed record TracedLine(byte Label, PixelPoint Before, PixelPoint Corner, PixelPoint After, double SigmaPx)
{
    /// <summary>Change of the touching area by label when the corner moves outwards by its standard uncertainty.</summary>
    public double[] Change(RegionMap map, Func<PixelPoint, double> areaOfPixel)
    {
        var change = new double[map.Labels.Length + 1];
        var along = After - Before;
        var length = double.Hypot(along.X, along.Y);
        if (length == 0)
        {
            return change;
        }

        // Moving a corner square to its neighbours' line sweeps half the length between them.
        var area = SigmaPx * length / 2 * areaOfPixel(Corner);
        var normal = new PixelPoint(-along.Y / length, along.X / length);
        var reach = 2.5 * map.Surface.PixelsPerMm * map.Surface.Frame.Step;
        foreach (var sign in (ReadOnlySpan<double>)[-1, 1])
        {
            // What lies on either side takes what the other side gives.
            var touching = 0.0;
            var parts = new double[change.Length];
            var count = 0;
            for (var t = 0; t < 5; t++)
            {
                var place = Before + new PixelPoint(along.X * (0.1 + (0.2 * t)), along.Y * (0.1 + (0.2 * t)));
                var w = map.Surface.Frame.ToWorking(new PixelPoint(place.X + (sign * reach * normal.X), place.Y + (sign * reach * normal.Y)));
                int x = (int)Math.Floor(w.X), y = (int)Math.Floor(w.Y);
                count++;
                if (x < 0 || y < 0 || x >= map.Surface.Width || y >= map.Surface.Height || !map.Surface.Inside[(y * map.Surface.Width) + x])
                {
                    continue;
                }

                touching += map.Touching[x, y];
                for (var k = 0; k < parts.Length; k++)
                {
                    parts[k] += map.Touching[x, y] * map.Material[k][x, y];
                }
            }

            for (var k = 0; k < parts.Length; k++)
            {
                change[k] += sign * area * parts[k] / count;
            }
        }

        return change;
    }
}
