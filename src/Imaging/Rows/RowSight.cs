using System.Collections.Immutable;
using Pairbench.Imaging.Networks;
using Pairbench.Imaging.Regions;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// What two small networks see in the strip along a path, straightened in millimetres: how likely the middle of a stitch lies at a place. They were taught by drawn rows
/// only (thread lighter or darker than its ground, of its tone in relief, with one highlight or more, on leather, cloth, knit and mesh), the second by many in relief under a lamp that casts shadows as well, and know
/// how thread looks, where the row's own likeness to itself tells too little. Each errs where the other often does not: what is told is a mean of their log odds.
/// </summary>
internal sealed class RowSight
{
    public const double Beyond = 7;
    public const double Cell = 0.1;
    private const int Columns = 64;
    private const int Fine = 2;
    private const double MeanOver = 9;
    private const float MostDeviations = 4;

    /// <summary>Log odds beyond the strip, and the least that count.</summary>
    private const double Nothing = -7;

    /// <summary>Odds (natural logarithm) of places that need be looked at.</summary>
    private const double Least = -4;

    /// <summary>How far about a mark is looked, in pitches along and mm across.</summary>
    private const double AboutAlong = 0.2;
    private const double AboutAcross = 0.4;

    private const double AboutMiddle = 0.2;

    /// <summary>Half a pitch each way is looked at in so many steps.</summary>
    private const int ShiftsEachWay = 10;

    /// <summary>In pitches: what lies nearer is placed by likeness, which is finer than a cell.</summary>
    private const double LeastShift = 0.15;

    /// <summary>Natural logarithm of odds for each mark, on average.</summary>
    private const double PlainlyBetter = 0.7;

    /// <summary>Both networks, and how much the log odds of each count: of halves and these, these lose less on drawn rows and no less on rendered ones (benchmarks/Seams).</summary>
    private static readonly Lazy<ImmutableArray<(UNet Network, float Weight)>> Taught = new(() => [(Read("row-network.bin"), 0.65f), (Read("row-network-relief.bin"), 0.35f)]);

    private readonly Plane _logOdds;
    private readonly Plane _bare;

    private RowSight(Plane logOdds, Plane bare) => (_logOdds, _bare) = (logOdds, bare);

    public static RowSight Of(PicturePlanes planes, GuideCurve guide)
    {
        var inputs = Inputs(planes, guide);
        var seen = Taught.Value.Select(t => (Planes: t.Network.Run(inputs), t.Weight)).ToArray();
        return new RowSight(Mean([.. seen.Select(s => (s.Planes[0], s.Weight))]), Mean([.. seen.Select(s => (s.Planes[2], s.Weight))]));
    }

    private static UNet Read(string file)
    {
        using var reader = UNet.Open($"Pairbench.Imaging.Rows.{file}");
        return UNet.Read(reader, 5);
    }

    private static Plane Mean(ImmutableArray<(Plane Plane, float Weight)> of)
    {
        var values = new float[of[0].Plane.Values.Length];
        foreach (var (plane, weight) in of)
        {
            for (var i = 0; i < values.Length; i++)
            {
                values[i] += weight * plane.Values[i];
            }
        }

        return new Plane(of[0].Plane.Width, of[0].Plane.Height, values);
    }

    /// <summary>What the networks are shown: for each plane of the picture rows along the guide, a cell each, from <see cref="Beyond"/> before its first point on.</summary>
    public static Plane[] Inputs(PicturePlanes planes, GuideCurve guide)
    {
        var grid = Taught.Value.Max(t => t.Network.Grid);
        var count = (int)Math.Ceiling((guide.Length + (2 * Beyond)) / Cell / grid) * grid;
        return [.. Strip(planes, guide, count).Select((p, plane) => Evened(p, planes.Rounding(plane)))];
    }

    /// <summary>How much likelier the marks of a row are there, in such steps, than not (natural logarithm).</summary>
    public double Worth(FoundRow row) => SeenRow.Worth([.. row.Marks.Select(m => (new SeenRow.Peak(m.Along, m.Across, At(m, row.Pitch)), m.Before))]);

    /// <summary>How much likelier thread lies at the marks of a row, and is missing where it says so, than not (natural logarithm); steps apart.</summary>
    public double LogOdds(FoundRow row) => row.Marks.Sum(m => SeenRow.Evidence(At(m, row.Pitch))) - (SeenRow.MissingCost * row.Missing);

    /// <summary>Natural logarithm of the odds at a mark, in the middle of them all.</summary>
    public double Usual(FoundRow row) => BareOdds.Of([.. row.Marks.Select(m => At(m, row.Pitch))]).Usual;

    /// <summary>Places at which a mark may be, in order along: where the odds are largest about.</summary>
    public ImmutableArray<SeenRow.Peak> Peaks(double length)
    {
        var peaks = ImmutableArray.CreateBuilder<SeenRow.Peak>();
        for (var row = 1; row + 1 < _logOdds.Height; row++)
        {
            for (var column = 1; column + 1 < Columns; column++)
            {
                var value = _logOdds[column, row];
                if (value > Least && IsPeak(column, row))
                {
                    double Shift(float before, float after) => Math.Clamp(0.5 * (before - after) / Math.Min(-1e-6, before - (2 * value) + after), -0.7, 0.7);
                    var along = ((row + 0.5 + Shift(_logOdds[column, row - 1], _logOdds[column, row + 1])) * Cell) - Beyond;
                    var across = (column + 0.5 + Shift(_logOdds[column - 1, row], _logOdds[column + 1, row]) - (Columns / 2)) * Cell;
                    if (along > -0.5 * Beyond && along < length + (0.5 * Beyond))
                    {
                        peaks.Add(new SeenRow.Peak(along, across, value));
                    }
                }
            }
        }

        return peaks.ToImmutable();
    }

    private bool IsPeak(int column, int row)
    {
        const int about = 3;
        for (var r = Math.Max(0, row - about); r <= Math.Min(_logOdds.Height - 1, row + about); r++)
        {
            for (var c = Math.Max(0, column - about); c <= Math.Min(Columns - 1, column + about); c++)
            {
                if (_logOdds[c, r] > _logOdds[column, row] || (_logOdds[c, r] == _logOdds[column, row] && (r < row || (r == row && c < column))))
                {
                    return false;
                }
            }
        }

        return true;
    }

    /// <summary>Natural logarithm of the odds that the middle of a stitch lies near a mark, the largest of those about.</summary>
    public double At(RowMark mark, double pitch) => Largest(_logOdds, mark, pitch);

    /// <summary>Natural logarithm of the odds that the middle of a skipped stitch lies near a place of a row, the largest of those about.</summary>
    public double BareAt(RowMark mark, double pitch) => Largest(_bare, mark, pitch);

    /// <summary>
    /// How far along, in mm, the middles of the stitches lie from the marks of a row; 0 where they lie near them, are no plainer elsewhere or are not seen. What repeats can be cut anywhere, and a deep shadow or hole at one end
    /// of each stitch may be taken for its middle; the network knows middles alone.
    /// </summary>
    public double MiddlesFrom(FoundRow row)
    {
        var centre = RowCentre.Through(row.Marks);
        double Odds(double shift) => row.Marks.Average(m => Largest(_logOdds, m with { Along = m.Along + shift, Across = centre(m.Along + shift) }, 0, AboutMiddle));
        var best = Enumerable.Range(-ShiftsEachWay, (2 * ShiftsEachWay) + 1).Select(k => 0.5 * k / ShiftsEachWay * row.Pitch).MaxBy(Odds);
        return Math.Abs(best) >= LeastShift * row.Pitch && Odds(best) > 0 && Odds(best) - Odds(0) >= PlainlyBetter ? best : 0;
    }

    private static double Largest(Plane plane, RowMark mark, double pitch) => Largest(plane, mark, AboutAlong * pitch, AboutAcross);

    private static double Largest(Plane plane, RowMark mark, double aboutAlong, double aboutAcross)
    {
        static int Index(double mm) => (int)Math.Floor(mm / Cell);
        var most = Nothing;
        var (first, last) = (Index(mark.Along + Beyond - aboutAlong), Index(mark.Along + Beyond + aboutAlong));
        var (left, right) = (Index(mark.Across - aboutAcross) + (Columns / 2), Index(mark.Across + aboutAcross) + (Columns / 2));
        for (var row = Math.Max(0, first); row <= Math.Min(plane.Height - 1, last); row++)
        {
            for (var column = Math.Max(0, left); column <= Math.Min(Columns - 1, right); column++)
            {
                most = Math.Max(most, plane[column, row]);
            }
        }

        return most;
    }

    /// <summary>Rows along the guide, columns across it; each cell is the mean of four samples, so that fine pixels are not left out.</summary>
    private static Plane[] Strip(PicturePlanes planes, GuideCurve guide, int count)
    {
        var strip = Enumerable.Range(0, PicturePlanes.Count).Select(_ => new Plane(Columns, count)).ToArray();
        Parallel.For(0, count, row =>
        {
            Span<double> values = stackalloc double[PicturePlanes.Count];
            for (var part = 0; part < Fine; part++)
            {
                var along = -Beyond + ((row + ((part + 0.5) / Fine)) * Cell);
                for (var k = 0; k < Columns * Fine; k++)
                {
                    planes.At(guide.At(along, (((k + 0.5) / Fine) - (Columns / 2)) * Cell), values);
                    for (var plane = 0; plane < strip.Length; plane++)
                    {
                        strip[plane].Values[(row * Columns) + (k / Fine)] += (float)(values[plane] / (Fine * Fine));
                    }
                }
            }
        });
        return strip;
    }

    /// <summary>What is the same all along (edges, folds, shade) is taken out, contrast is evened.</summary>
    /// <param name="rounding">Standard deviation that rounding alone may cause: what lies below it counts little.</param>
    private static Plane Evened(Plane plane, double rounding)
    {
        var reach = (int)Math.Round(MeanOver / 2 / Cell);
        var values = new float[plane.Values.Length];
        var own = new double[Columns];
        var sums = new double[plane.Height + 1];
        for (var column = 0; column < Columns; column++)
        {
            for (var row = 0; row < plane.Height; row++)
            {
                sums[row + 1] = sums[row] + plane[column, row];
            }

            for (var row = 0; row < plane.Height; row++)
            {
                int first = Math.Max(0, row - reach), end = Math.Min(plane.Height, row + reach + 1);
                var value = plane[column, row] - ((sums[end] - sums[first]) / (end - first));
                values[(row * Columns) + column] = (float)value;
                own[column] += value * value / plane.Height;
            }
        }

        var usual = own.Average(Math.Sqrt);
        for (var i = 0; i < values.Length; i++)
        {
            var scale = 1 / Math.Sqrt((0.5 * (own[i % Columns] + (usual * usual))) + (rounding * rounding));
            values[i] = Math.Clamp((float)(values[i] * scale), -MostDeviations, MostDeviations);
        }

        return new Plane(Columns, plane.Height, values);
    }
}
