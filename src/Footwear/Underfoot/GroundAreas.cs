using System.Collections.Immutable;
using MathNet.Numerics.Distributions;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Regions;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Underfoot;

/// <summary>Figures of the areas that touch the ground, with their budgets.</summary>
internal sealed class GroundAreas
{
    private static readonly ImmutableDictionary<byte, string> Names = new Dictionary<byte, string> { [1] = "rubber", [2] = "textile", [3] = "leather", [4] = "other" }.ToImmutableDictionary();

    private readonly RegionMap _map;
    private readonly PlaneMapping _mapping;
    private readonly string _photo;
    private readonly bool _traced;
    private readonly Stepping? _stepping;
    private readonly RegionAreas _areas;
    private readonly Dictionary<IPlaneMap, ImmutableArray<double>> _underMap = [];

    public GroundAreas(RegionMap map, PlaneMapping mapping, string photo, bool outlineTraced, Stepping? stepping)
    {
        _map = map;
        _mapping = mapping;
        _photo = photo;
        _traced = outlineTraced;
        _stepping = stepping;
        _areas = map.Measure(mapping.AreaOfPixel);
    }

    /// <summary>Nothing touches.</summary>
    public bool Nothing => !(Total > 0);

    /// <summary>Part of the touching area that bears no label.</summary>
    public double UnknownShare => _areas.Touching[^1] / Total;

    private double Total => _areas.Touching.Sum();

    /// <summary>Half a thousandth without a label is noise of the division, and no material is told for it.</summary>
    private bool UnknownIsTold => UnknownShare > 0.0005 || _map.Labels.Contains((byte)4) || _map.Labels.IsEmpty;

    /// <summary>All of which a material is told, or all that touches where there are no labels.</summary>
    private double Sum(ImmutableArray<double> areas) => UnknownIsTold ? areas.Sum() : areas.Sum() - areas[^1];

    public Figure ContactArea() => new("contact-area", "Area in contact with the ground", Bounded(Evaluate("mm2", Sum), 0, _areas.Whole));

    /// <summary>Contact area, then area and share of each material, then the lead of the largest share.</summary>
    public ImmutableArray<Figure> Figures()
    {
        var figures = ImmutableArray.CreateBuilder<Figure>();
        figures.Add(ContactArea());
        var materials = _map.Labels.Select((l, k) => (Name: Names[l], Index: k)).ToList();
        if (UnknownIsTold && !_map.Labels.Contains((byte)4))
        {
            materials.Add(("other", -1));
        }

        foreach (var (name, index) in materials)
        {
            figures.Add(new Figure($"area.{name}", $"{Capital(name)} in contact with the ground", Bounded(Evaluate("mm2", a => Of(a, name, index)), 0, _areas.Whole)));
        }

        foreach (var (name, index) in materials)
        {
            figures.Add(new Figure($"share.{name}", $"{Capital(name)} share of ground contact", Bounded(Evaluate("%", a => 100 * Of(a, name, index) / Sum(a)), 0, 100)));
        }

        figures.Add(new Figure("lead", "Lead of the largest share over the second", Bounded(Evaluate("%", Lead), -100, 100)));
        return figures.ToImmutable();

        double Of(ImmutableArray<double> a, string name, int index) => (index < 0 ? 0 : a[index]) + (name == "other" ? a[^1] : 0);

        double Lead(ImmutableArray<double> a)
        {
            // The order of the shares as found: a lead that turns round becomes negative under a moved input.
            var found = materials.OrderByDescending(m => Of(_areas.Touching, m.Name, m.Index)).ToArray();
            return 100 * (Of(a, found[0].Name, found[0].Index) - (found.Length > 1 ? Of(a, found[1].Name, found[1].Index) : 0)) / Sum(a);
        }
    }

    private Measured Evaluate(string unit, Func<ImmutableArray<double>, double> quantity)
    {
        var at = quantity(_areas.Touching);
        var change = 1e-4 * Total;
        var slopes = _areas.Touching.Select((v, k) => (quantity(_areas.Touching.SetItem(k, v + change)) - at) / change).ToArray();
        var budget = new List<Contribution>();
        foreach (var kind in Enum.GetValues<DoubtKind>())
        {
            double square = 0, signed = 0;
            foreach (var doubt in _areas.Doubts.Where(d => d.Kind == kind))
            {
                var size = DoubtSizes.Of(doubt.Family) * doubt.Change.Select((c, k) => c * slopes[k]).Sum();
                square += size * size;
                signed += size;
            }

            if (square > 0)
            {
                budget.Add(new Contribution($"{Name(kind)}:{_photo}", Evaluation.TypeB, (signed < 0 ? -1 : 1) * Math.Sqrt(square), kind == DoubtKind.Boundary ? double.PositiveInfinity : DoubtSizes.DegreesOfFreedom));
            }
        }

        if (!_traced)
        {
            // An edge that was found may take in some bench or leave out some sole: a twelfth of each material.
            var rim = _areas.Touching.Select((v, k) => v * slopes[k] / 12).ToArray();
            budget.Add(new Contribution($"edge-found:{_photo}", Evaluation.TypeB, Math.Sqrt(rim.Sum(r => r * r))));
        }

        if (_stepping is { } stepping)
        {
            budget.Add(new Contribution($"stepping:{stepping.Print}", Evaluation.TypeB, Stepping.AreaPct / 100 * _areas.Touching.Select((v, k) => v * slopes[k]).Sum()));
            // Contact that comes and goes does so place by place: a fifth of it is taken to differ between materials.
            var apart = _areas.Touching.Select((v, k) => v * slopes[k] * Stepping.AreaPct / 100 / 5).ToArray();
            budget.Add(new Contribution($"stepping-place:{stepping.Print}", Evaluation.TypeB, Math.Sqrt(apart.Sum(a => a * a))));
            if (stepping.MisalignmentPx > 0)
            {
                var shift = stepping.MisalignmentPx / (_map.Surface.Frame.Step * _map.Surface.PixelsPerMm);
                var moved = _areas.Touching.Select((v, k) => v * slopes[k] * 0.01 * shift).ToArray();
                budget.Add(new Contribution($"overlay:{stepping.Print}", Evaluation.TypeB, Math.Sqrt(moved.Sum(m => m * m))));
            }
        }

        if (UnknownShare > 0)
        {
            // What bears no label may be any material: uniform over all of it.
            var most = slopes.Take(slopes.Length - 1).Append(0).Max(s => Math.Abs(s - slopes[^1]));
            budget.Add(new Contribution($"unlabelled:{_photo}", Evaluation.TypeB, TypeB.Uniform(_areas.Touching[^1] * most)));
        }

        return _mapping.Evaluate(unit, map => quantity(Under(map)), budget.Where(c => c.Value != 0));
    }

    private ImmutableArray<double> Under(IPlaneMap map)
    {
        if (!_underMap.TryGetValue(map, out var touching))
        {
            touching = _map.Touch(map.AreaOfPixel);
            _underMap[map] = touching;
        }

        return touching;
    }

    /// <summary>A share cannot leave 0 to 100 %, nor an area the sole: the state of knowledge is drawn in the logit, so that the interval stays inside and is lopsided near an end.</summary>
    private static Measured Bounded(Measured measured, double low, double high)
    {
        var u = measured.StandardUncertainty;
        var span = high - low;
        var at = Math.Clamp((measured.Value - low) / span, 1e-5, 1 - 1e-5);
        if (u <= 0)
        {
            return measured;
        }

        var scale = u / span / (at * (1 - at));
        if (scale > 1.2)
        {
            scale = 1.2 + (0.3 * Math.Log(scale / 1.2));
        }

        var middle = Math.Log(at / (1 - at));
        var degrees = Math.Max(1, Math.Min(1e6, measured.DegreesOfFreedom));
        const int draws = 1999;
        return measured.WithSamples(Enumerable.Range(0, draws).Select(i =>
        {
            var p = (i + 0.5) / draws;
            var t = degrees > 1000 ? Normal.InvCDF(0, 1, p) : StudentT.InvCDF(0, 1, degrees, p);
            return low + (span / (1 + Math.Exp(-(middle + (scale * t)))));
        }));
    }

    private static string Name(DoubtKind kind) => kind switch
    {
        DoubtKind.Contact => "groove",
        DoubtKind.Label => "label",
        _ => "boundary",
    };

    private static string Capital(string name) => char.ToUpperInvariant(name[0]) + name[1..];
}
