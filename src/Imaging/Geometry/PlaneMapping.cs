using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging.Datum;
using Pairbench.Measuring;

namespace Pairbench.Imaging.Geometry;

/// <summary>One way of turning pixels of a photograph into millimetres on the measured plane.</summary>
public interface IPlaneMap
{
    /// <exception cref="ScaleException">The point lies at or beyond the horizon of the plane.</exception>
    PlanePoint ToPlane(PixelPoint pixel);

    /// <summary>Where a place on the measured plane lies in the picture; the inverse of <see cref="ToPlane"/>.</summary>
    /// <exception cref="ScaleException">The place lies behind the camera.</exception>
    PixelPoint ToPicture(PlanePoint place);

    /// <summary>Square millimetres for each square pixel at a place.</summary>
    double AreaOfPixel(PixelPoint pixel);
}

/// <summary>
/// Pixels of one photograph to millimetres on the measured plane, with everything that is uncertain about it.
/// </summary>
/// <remarks>
/// Each uncertain input (clicks on the scale, paper along each axis, plane height, focal length, lens, tilt) is moved by its standard
/// uncertainty either way and the whole mapping is made anew; half the difference of a quantity under the two mappings is the
/// contribution of that cause (JCGM 100:2008, 5.1.3, note 2). A plane height that was measured carries its own causes along. Inputs are independent; quantities measured through one mapping share its causes.
/// Camera geometry: one view of a plane with square pixels and the principal point in the middle of the picture.
/// </remarks>
public sealed class PlaneMapping : IPlaneMap
{
    private readonly IUncertainInputs _inputs;
    private readonly IPlaneMap _map;
    private readonly ImmutableArray<(UncertainInput Input, IPlaneMap Plus, IPlaneMap Minus)> _moved;

    private PlaneMapping(IUncertainInputs inputs)
    {
        _inputs = inputs;
        var causes = inputs.Causes;
        var rest = new double[causes.Length];
        _map = inputs.Build(rest);
        Assumptions = inputs.Assumptions;
        _moved = [.. causes.Select((input, i) =>
        {
            var plus = new double[causes.Length];
            var minus = new double[causes.Length];
            plus[i] = 1;
            minus[i] = -1;
            return (input, inputs.Build(plus), inputs.Build(minus));
        })];
    }

    /// <summary>What was taken for granted, a sentence each.</summary>
    public ImmutableArray<string> Assumptions { get; }

    /// <summary>Standard uncertainty of a clicked point along each axis in pixels.</summary>
    public double ClickSigmaPx => _inputs.ClickSigmaPx;

    /// <summary>Makes the mapping of a photograph; a datum sheet or cards are looked for in its pixels.</summary>
    /// <exception cref="ScaleException">The scale cannot be used, or the sheet or cards were not found.</exception>
    /// <exception cref="PhotoException">The picture cannot be read.</exception>
    public static PlaneMapping Of(PhotoScale scale, IPhotograph photo)
    {
        ArgumentNullException.ThrowIfNull(scale);
        ArgumentNullException.ThrowIfNull(photo);
        return scale is PrintedScale printed
            ? Of(printed, DatumFinder.Find(printed, photo), photo.File)
            : Of(scale, photo.File, photo.Size, photo.Camera);
    }

    /// <summary>Makes the mapping of a photograph in which the sheet or cards were found.</summary>
    /// <param name="scale">The one that it was found for.</param>
    /// <param name="photo">Name of the photograph; names the causes.</param>
    /// <exception cref="ScaleException">The measured plane lies behind the camera.</exception>
    public static PlaneMapping Of(PrintedScale scale, DatumFound found, string photo)
    {
        ArgumentNullException.ThrowIfNull(scale);
        ArgumentNullException.ThrowIfNull(found);
        return new PlaneMapping(FoundInputs.Of(scale, found, photo));
    }

    /// <summary>Makes the mapping of a photograph from a scale that needs no pixels.</summary>
    /// <param name="photo">Name of the photograph; names the causes.</param>
    /// <param name="size">Size of the oriented picture, which the pixels of the scale refer to.</param>
    /// <exception cref="ScaleException">The scale cannot be used.</exception>
    /// <exception cref="ArgumentException">The scale is to be found in the picture.</exception>
    public static PlaneMapping Of(PhotoScale scale, string photo, PixelSize size, CameraFacts camera)
    {
        ArgumentNullException.ThrowIfNull(scale);
        ArgumentNullException.ThrowIfNull(camera);
        return scale is PrintedScale
            ? throw new ArgumentException("A printed scale is found in the picture itself.", nameof(scale))
            : new PlaneMapping(new GivenInputs(scale, photo, size, camera));
    }

    /// <summary>The likeliest mapping alone, without what is uncertain about it: for many planes of one photograph.</summary>
    /// <param name="found">What was found for a printed scale; null for any other.</param>
    /// <exception cref="ScaleException">The scale cannot be used.</exception>
    public static IPlaneMap Likeliest(PhotoScale scale, IPhotograph photo, DatumFound? found)
    {
        ArgumentNullException.ThrowIfNull(scale);
        ArgumentNullException.ThrowIfNull(photo);
        IUncertainInputs inputs = scale is PrintedScale printed
            ? FoundInputs.Of(printed, found ?? throw new ArgumentNullException(nameof(found)), photo.File)
            : new GivenInputs(scale, photo.File, photo.Size, photo.Camera);
        return inputs.Build(new double[inputs.Causes.Length]);
    }

    /// <summary>A mapping for shares of areas alone, where nothing gives a length.</summary>
    /// <param name="pxPerMm">A guess, so that patterns are looked at in about their size.</param>
    public static PlaneMapping Unscaled(IPhotograph photo, double pxPerMm)
    {
        ArgumentNullException.ThrowIfNull(photo);
        return new PlaneMapping(new UnscaledInputs(photo.File, photo.Size, photo.Camera, pxPerMm));
    }

    public PlanePoint ToPlane(PixelPoint pixel) => _map.ToPlane(pixel);

    public PixelPoint ToPicture(PlanePoint place) => _map.ToPicture(place);

    public double AreaOfPixel(PixelPoint pixel) => _map.AreaOfPixel(pixel);

    /// <summary>A quantity of the plane with the causes of the mapping: the function is evaluated under each moved mapping.</summary>
    /// <param name="unit">UCUM unit of the quantity.</param>
    public Measured Evaluate(string unit, Func<IPlaneMap, double> quantity, params IEnumerable<Contribution> further)
    {
        ArgumentNullException.ThrowIfNull(quantity);
        var budget = _moved
            .SelectMany(m => Shared(m.Input, (quantity(m.Plus) - quantity(m.Minus)) / 2))
            .Concat(further);
        return Measured.Of(quantity(_map), unit, budget);
    }

    /// <summary>Distance between two clicked points in mm, with the uncertainty of the mapping and of both clicks.</summary>
    /// <param name="cause">Name of the clicks in the budget; the four coordinates stand under it with a number each.</param>
    /// <param name="clickSigmaPx">Standard uncertainty of each coordinate in pixels; that of the scale where it is left out.</param>
    public Measured Length(PixelPoint from, PixelPoint to, string cause, double? clickSigmaPx = null)
    {
        var sigma = clickSigmaPx ?? ClickSigmaPx;
        ImmutableArray<PixelPoint> steps = [new(sigma, 0), new(0, sigma)];
        var clicks = new List<Contribution>();
        if (sigma > 0)
        {
            foreach (var step in steps)
            {
                clicks.Add(Click(Distance(_map, from + step, to) - Distance(_map, from - step, to)));
                clicks.Add(Click(Distance(_map, from, to + step) - Distance(_map, from, to - step)));
            }
        }

        return Evaluate("mm", map => Distance(map, from, to), clicks);

        Contribution Click(double difference) =>
            new($"{cause}-{(clicks.Count + 1).ToString(CultureInfo.InvariantCulture)}", Evaluation.TypeB, difference / 2);
    }

    /// <summary>Area in mm2 of a region given as places with the number of pixels that each stands for, with the uncertainty of the mapping.</summary>
    public Measured Area(IReadOnlyList<(PixelPoint Place, double Pixels)> cells) =>
        Evaluate("mm2", map => cells.Sum(c => c.Pixels * map.AreaOfPixel(c.Place)));

    /// <summary>Area in mm2 of the labels that count, with the uncertainty of the mapping; the uncertainty of the labels themselves is the caller's.</summary>
    /// <param name="labels">A map of the whole picture, of its size or smaller.</param>
    /// <param name="picture">Size of the oriented picture in pixels.</param>
    /// <param name="counts">Which labels belong to the region.</param>
    public Measured Area(LabelMap labels, PixelSize picture, Func<byte, bool> counts)
    {
        ArgumentNullException.ThrowIfNull(labels);
        ArgumentNullException.ThrowIfNull(counts);
        const int block = 16;
        var (kx, ky) = ((double)picture.Width / labels.Size.Width, (double)picture.Height / labels.Size.Height);
        var (wide, high) = ((labels.Size.Width + block - 1) / block, (labels.Size.Height + block - 1) / block);
        var sums = new (long Count, long X, long Y)[wide * high];
        var belongs = new bool[256];
        for (var label = 0; label < belongs.Length; label++)
        {
            belongs[label] = counts((byte)label);
        }

        for (var y = 0; y < labels.Size.Height; y++)
        {
            var row = labels.Labels.Slice(y * labels.Size.Width, labels.Size.Width);
            for (var x = 0; x < row.Length; x++)
            {
                if (belongs[row[x]])
                {
                    ref var sum = ref sums[(y / block * wide) + (x / block)];
                    sum = (sum.Count + 1, sum.X + x, sum.Y + y);
                }
            }
        }

        // A block counts at its centre of gravity: what is left out is of second order in a block's share of the picture.
        return Area([.. sums.Where(s => s.Count > 0).Select(s => (
            new PixelPoint((((double)s.X / s.Count) + 0.5) * kx, (((double)s.Y / s.Count) + 0.5) * ky),
            s.Count * kx * ky))]);
    }

    /// <summary>Area in mm2 of a polygon of clicked points, with the uncertainty of the mapping and of each click.</summary>
    /// <param name="polygon">At least three points in order; the sides do not cross.</param>
    /// <param name="cause">Name of the clicks in the budget; each coordinate stands under it with a number.</param>
    /// <param name="clickSigmaPx">Standard uncertainty of each coordinate in pixels; that of the scale where it is left out.</param>
    public Measured PolygonArea(IReadOnlyList<PixelPoint> polygon, string cause, double? clickSigmaPx = null)
    {
        ArgumentNullException.ThrowIfNull(polygon);
        if (polygon.Count < 3)
        {
            throw new ArgumentException($"A polygon has at least three points; got {polygon.Count}.", nameof(polygon));
        }

        var sigma = clickSigmaPx ?? ClickSigmaPx;
        var clicks = new List<Contribution>();
        var moved = polygon.ToArray();
        for (var i = 0; sigma > 0 && i < moved.Length; i++)
        {
            foreach (var step in new PixelPoint[] { new(sigma, 0), new(0, sigma) })
            {
                moved[i] = polygon[i] + step;
                var larger = PolygonArea(_map, moved);
                moved[i] = polygon[i] - step;
                var smaller = PolygonArea(_map, moved);
                moved[i] = polygon[i];
                clicks.Add(new Contribution($"{cause}-{(clicks.Count + 1).ToString(CultureInfo.InvariantCulture)}", Evaluation.TypeB, (larger - smaller) / 2));
            }
        }

        return Evaluate("mm2", map => PolygonArea(map, polygon), clicks);
    }

    private static double PolygonArea(IPlaneMap map, IReadOnlyList<PixelPoint> polygon)
    {
        var first = map.ToPlane(polygon[0]);
        double twice = 0;
        var before = first;
        for (var i = 1; i <= polygon.Count; i++)
        {
            var next = i < polygon.Count ? map.ToPlane(polygon[i]) : first;
            twice += ((before.X - first.X) * (next.Y - first.Y)) - ((next.X - first.X) * (before.Y - first.Y));
            before = next;
        }

        return Math.Abs(twice) / 2;
    }

    private static IEnumerable<Contribution> Shared(UncertainInput input, double moved) => input.Shares.Select(s => s with { Value = s.Value * moved });

    private static double Distance(IPlaneMap map, PixelPoint a, PixelPoint b) => map.ToPlane(a).DistanceTo(map.ToPlane(b));
}
