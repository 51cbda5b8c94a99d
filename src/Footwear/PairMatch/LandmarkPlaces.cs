using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Imaging.Datum;
using Pairbench.Imaging.Edges;
using Pairbench.Imaging.Geometry;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>A landmark as it lies in the measured plane, x and y in mm with everything that is uncertain about them.</summary>
internal sealed record LandmarkPlace(string Name, PixelPoint Pixel, Measured X, Measured Y);

/// <summary>One shoe with its landmarks in millimetres.</summary>
/// <param name="Turn">Name of the cause that it is turned on the bench.</param>
/// <param name="Map">Pixels to the frame of the landmarks, at the depth where most of them lie.</param>
/// <param name="Assumptions">What the scale took for granted.</param>
/// <param name="NotSnapped">Landmarks that were to be drawn to an edge and stayed.</param>
/// <param name="Outline">Places along the outline, in order; none where it is not drawn.</param>
internal sealed record PlacedShoe(
    IPhotograph Photo,
    string Turn,
    ImmutableDictionary<string, LandmarkPlace> Landmarks,
    IPlaneMap Map,
    ImmutableArray<string> Assumptions,
    ImmutableArray<string> NotSnapped,
    ImmutableArray<LandmarkPlace> Outline,
    OutlineSnap OutlineSnap);

/// <summary>Puts the landmarks of one shoe into millimetres.</summary>
internal sealed class LandmarkPlaces
{
    /// <summary>Name of the outline among depths.</summary>
    public const string Outline = "outline";

    /// <summary>Name of the cause that a pair lies deeper or less deep than usual, all of it.</summary>
    private const string UsualDepths = "depth-of-shoe:usual";

    /// <summary>What the depth of one shoe's landmark differs from that of the other's, standard uncertainty in mm (common practice, no source).</summary>
    private const double OwnDepthMm = 1.5;

    private readonly ShoeView _shoe;
    private readonly PhotoScale _scale;
    private readonly IPhotograph _photo;
    private readonly string _own;
    private readonly double _turn;
    private readonly Lazy<DatumFound?> _found;
    private readonly Dictionary<double, PlaneMapping> _mappings = [];
    private readonly Dictionary<double, IPlaneMap> _maps = [];

    private LandmarkPlaces(ShoeView shoe, PhotoScale scale, IPhotograph photo, string side, double turnSigmaDeg)
    {
        // Both shoes may lie in one photograph: what each is clicked and put down by is its own all the same.
        (_shoe, _scale, _photo, _own, _turn) = (shoe, scale, photo, $"{shoe.Photo.File}/{side}", turnSigmaDeg * Math.PI / 180);
        _found = new Lazy<DatumFound?>(() => scale is PrintedScale printed ? DatumFinder.Find(printed, photo) : null);
    }

    /// <summary>Places every landmark, and the outline.</summary>
    /// <param name="depthOf">Depth of a landmark with its standard uncertainty, the same for both shoes.</param>
    /// <param name="side">Left or right: names its own causes, and its place in the evidence for faults.</param>
    /// <exception cref="FaultsException">The scale cannot be used for a landmark.</exception>
    public static PlacedShoe Of(ShoeView shoe, IPhotograph photo, PairMatchEvidence evidence, Func<string, UsualDepth> depthOf, string side)
    {
        var places = new LandmarkPlaces(shoe, shoe.Photo.Scale ?? throw EvidencePhoto.NoScale($"{side}.photo"), photo, side, evidence.TurnSigmaDeg);
        var snap = evidence.Snap ?? new SnapToEdge([]);
        var snapped = snap.Landmarks.ToImmutableHashSet(StringComparer.Ordinal);
        try
        {
            var click = places.Clicks();
            var edges = shoe.Landmarks.Where(l => snapped.Contains(l.Key)).ToImmutableDictionary(l => l.Key, l => EdgeSnap.At(photo, Mean(l.Value), snap.ReachPx), StringComparer.Ordinal);
            var seen = shoe.Landmarks.Select(l => places.Seen(l.Key, l.Value, click, edges.GetValueOrDefault(l.Key))).ToImmutableArray();
            var middle = seen.IsEmpty ? 0 : seen.Average(s => places.At(places.Map(places.Depth(depthOf(s.Name))), s.Pixel).X);
            var depths = shoe.Landmarks.Keys.Select(k => places.Depth(depthOf(k))).Order().DefaultIfEmpty(0).ToImmutableArray();
            var trace = shoe.Outline.IsEmpty ? new OutlineTrace([], OutlineSnap.NotAsked) : OutlineTrace.Of(shoe.Outline, photo, places._own, places._scale.ClickSigmaPx, snap.Outline ? snap.ReachPx : null);
            return new PlacedShoe(
                photo,
                places.Turn,
                seen.ToImmutableDictionary(s => s.Name, s => places.Place(s, s.Name, depthOf(s.Name), middle), StringComparer.Ordinal),
                places.Frame(depths[depths.Length / 2]),
                places.Mapping(0).Assumptions,
                [.. edges.Where(e => e.Value is null).Select(e => e.Key).Order(StringComparer.Ordinal)],
                [.. trace.Places.Select(p => places.Place(p, Outline, depthOf(Outline), middle))],
                trace.Snap);
        }
        catch (ScaleException e)
        {
            throw new FaultsException(new Fault($"{side}.photo.scale.{e.Field}", e.Message, e.WouldBeRight));
        }
    }

    private string Turn => $"turn:{_own}";

    /// <summary>Spread of one click along one axis: pooled over all landmarks that were clicked more than once, where these are enough to tell.</summary>
    private (double SigmaPx, double DegreesOfFreedom) Clicks()
    {
        double squares = 0;
        var freedom = 0;
        foreach (var clicks in _shoe.Landmarks.Values.Where(c => c.Length > 1))
        {
            var (mx, my) = (clicks.Average(c => c.X), clicks.Average(c => c.Y));
            squares += clicks.Sum(c => ((c.X - mx) * (c.X - mx)) + ((c.Y - my) * (c.Y - my)));
            freedom += 2 * (clicks.Length - 1);
        }

        return freedom >= 6 ? (Math.Sqrt(squares / freedom), freedom) : (_scale.ClickSigmaPx, double.PositiveInfinity);
    }

    private static PixelPoint Mean(ImmutableArray<PixelPoint> clicks) => new(clicks.Average(c => c.X), clicks.Average(c => c.Y));

    private double Depth(UsualDepth depth) => _scale is ScanScale ? 0 : depth.DepthMm;

    /// <summary>A landmark where it was clicked, or on the edge beside it.</summary>
    private SeenPlace Seen(string name, ImmutableArray<PixelPoint> clicks, (double SigmaPx, double DegreesOfFreedom) click, SnappedPlace? edge)
    {
        var sigma = click.SigmaPx / Math.Sqrt(clicks.Length);
        var type = double.IsFinite(click.DegreesOfFreedom) ? Evaluation.TypeA : Evaluation.TypeB;
        Wobble Click(string along, PixelPoint step) => new($"clicks:{_own}#{name}-{along}", type, click.DegreesOfFreedom, step);
        return edge is { } e
            ? new(name, e.Place, [OutlineTrace.Edge($"edge:{_own}#{name}", e), .. sigma > 0 ? [Click("along", new PixelPoint(-sigma * e.Normal.Y, sigma * e.Normal.X))] : ImmutableArray<Wobble>.Empty])
            : new(name, Mean(clicks), sigma > 0 ? [Click("x", new PixelPoint(sigma, 0)), Click("y", new PixelPoint(0, sigma))] : []);
    }

    /// <param name="part">Name of what lies at this depth, the same on both shoes.</param>
    /// <param name="middle">Along x, about where the shoe may be turned.</param>
    private LandmarkPlace Place(SeenPlace seen, string part, UsualDepth depth, double middle)
    {
        var (name, pixel) = (seen.Name, seen.Pixel);
        var flat = _scale is ScanScale;
        var at = Depth(depth);
        var further = new List<(Contribution X, Contribution Y)>();
        void Add(string cause, Evaluation evaluation, double freedom, PlanePoint plus, PlanePoint minus) => further.Add((
            new Contribution(cause, evaluation, (plus.X - minus.X) / 2, freedom),
            new Contribution(cause, evaluation, (plus.Y - minus.Y) / 2, freedom)));
        foreach (var wobble in seen.Wobbles)
        {
            Add(wobble.Cause, wobble.Evaluation, wobble.DegreesOfFreedom, At(Map(at), pixel + wobble.Step), At(Map(at), pixel - wobble.Step));
        }

        if (!flat)
        {
            foreach (var (cause, u) in new[] { ($"depth:{part}", depth.StandardUncertaintyMm), ($"depth:{_own}/{part}", depth.StandardUncertaintyMm > 0 ? OwnDepthMm : 0), (UsualDepths, depth.TogetherMm) }.Where(d => d.Item2 > 0))
            {
                Add(cause, Evaluation.TypeB, double.PositiveInfinity, At(Map(at + u), pixel), At(Map(at - u), pixel));
            }

            if (_turn > 0)
            {
                // A turned shoe has the landmark elsewhere along x, since it lies at a depth, and at another depth, since it lies to one side.
                var (here, near, far) = (At(Map(at), pixel), At(Map(at + OwnDepthMm), pixel), At(Map(at - OwnDepthMm), pixel));
                var aside = here.X - middle;
                PlanePoint Turned(double angle)
                {
                    var deeper = -aside * angle / (2 * OwnDepthMm);
                    return new PlanePoint(here.X + (deeper * (near.X - far.X)) - (at * angle), here.Y + (deeper * (near.Y - far.Y)));
                }

                Add(Turn, Evaluation.TypeB, double.PositiveInfinity, Turned(_turn), Turned(-_turn));

                // Of second order, but not small: a depth that is not known is turned as well.
                var product = depth.StandardUncertaintyMm * _turn;
                Add($"turned-depth:{_own}/{part}", Evaluation.TypeB, double.PositiveInfinity, here with { X = here.X + product }, here with { X = here.X - product });
            }
        }

        var mapping = Mapping(at);
        return new LandmarkPlace(
            name,
            pixel,
            mapping.Evaluate("mm", m => At(m, pixel).X, further.Select(f => f.X)),
            mapping.Evaluate("mm", m => At(m, pixel).Y, further.Select(f => f.Y)));
    }

    /// <summary>The mapping of the plane at a depth; its causes have the same names at every depth.</summary>
    private PlaneMapping Mapping(double depth)
    {
        if (!_mappings.TryGetValue(depth, out var mapping))
        {
            var raised = Raised(depth);
            mapping = _found.Value is { } found ? PlaneMapping.Of((PrintedScale)raised, found, _photo.File) : PlaneMapping.Of(raised, _photo);
            _mappings[depth] = mapping;
        }

        return mapping;
    }

    /// <summary>The same without its causes.</summary>
    private IPlaneMap Map(double depth)
    {
        if (!_maps.TryGetValue(depth, out var map))
        {
            map = PlaneMapping.Likeliest(Raised(depth), _photo, _found.Value);
            _maps[depth] = map;
        }

        return map;
    }

    private PhotoScale Raised(double depth) => depth == 0 ? _scale : _scale with
    {
        PlaneHeightMm = _scale.PlaneHeightMm is { } height
            ? Measured.Of(height.Value + depth, "mm", height.Budget)
            : Measured.Exact(depth, "mm"),
    };

    /// <summary>
    /// A place in one frame for every depth. A bar's mapping begins at the corner of the picture, whose place moves with the depth; what lies
    /// straight before the camera does not.
    /// </summary>
    private PlanePoint At(IPlaneMap map, PixelPoint pixel) => From(map, map.ToPlane(pixel));

    private PlanePoint From(IPlaneMap map, PlanePoint place)
    {
        var origin = Origin(map);
        return new PlanePoint(place.X - origin.X, place.Y - origin.Y);
    }

    private PlanePoint Origin(IPlaneMap map) => _scale is BarScale ? map.ToPlane(new PixelPoint(_photo.Size.Width / 2.0, _photo.Size.Height / 2.0)) : default;

    private Framed Frame(double depth)
    {
        var mapping = Mapping(depth);
        return new Framed(mapping, Origin(mapping));
    }

    /// <summary>A mapping in the frame of the landmarks.</summary>
    private sealed record Framed(PlaneMapping Mapping, PlanePoint Origin) : IPlaneMap
    {
        public PlanePoint ToPlane(PixelPoint pixel)
        {
            var place = Mapping.ToPlane(pixel);
            return new PlanePoint(place.X - Origin.X, place.Y - Origin.Y);
        }

        public PixelPoint ToPicture(PlanePoint place) => Mapping.ToPicture(new PlanePoint(place.X + Origin.X, place.Y + Origin.Y));

        public double AreaOfPixel(PixelPoint pixel) => Mapping.AreaOfPixel(pixel);
    }
}
