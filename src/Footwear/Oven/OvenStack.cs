using System.Collections.Immutable;
using Pairbench.Footwear.Materials;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Oven;

/// <summary>A layer with its material, the id of its figures and what it is called.</summary>
internal sealed record OvenLayer(string Id, string Name, StackLayer Given, Material Material)
{
    /// <summary>A stack whose layers carry the names that tell them apart, of the materials that they have now.</summary>
    public static ImmutableArray<OvenLayer> Named(IEnumerable<(string Id, StackLayer Given, Material Material)> layers)
    {
        var of = layers.ToImmutableArray();
        var names = LayerNames.Of(of.Select(l => new NamedLayer(l.Id, l.Given.Id, l.Given.Component, l.Material.Name)));
        return [.. of.Select((l, i) => new OvenLayer(l.Id, names[i], l.Given, l.Material))];
    }

    /// <summary>The stack with one layer otherwise; what is null stays.</summary>
    public static ImmutableArray<OvenLayer> Changed(ImmutableArray<OvenLayer> stack, string id, Material? material, Measured? thickness, Fitted? fitted) => Named(stack.Select(l => l.Id != id
        ? (l.Id, l.Given, l.Material)
        : (l.Id, l.Given with { ThicknessMm = thickness ?? l.Given.ThicknessMm, Fitted = fitted ?? l.Given.Fitted }, material ?? l.Material)));
}

/// <summary>
/// A stack that goes through the oven as a model: one list of inputs with their budgets, and the slab that their values make.
/// </summary>
internal sealed class OvenStack
{
    private const double Seconds = 60;

    private readonly ImmutableArray<Measured> _inputs;
    private readonly Dictionary<string, int> _at;
    private readonly ImmutableArray<OvenLayer> _layers;
    private readonly OvenConditions _conditions;
    private readonly Material? _last;

    /// <param name="layers">From outside to inside, those that go through the oven.</param>
    /// <param name="last">Material of the last; null where there is none inside.</param>
    public OvenStack(ImmutableArray<OvenLayer> layers, Material? last, OvenConditions conditions)
    {
        (_layers, _last, _conditions) = (layers, last, conditions);
        _at = new(StringComparer.Ordinal);
        var inputs = ImmutableArray.CreateBuilder<Measured>();
        void Take(string name, Measured value)
        {
            if (_at.TryAdd(name, inputs.Count))
            {
                inputs.Add(value);
            }
        }

        Take("start", conditions.StartC);
        Take("film", conditions.Film);
        foreach (var (step, i) in conditions.Program.Select((s, i) => (s, i)))
        {
            Take($"air:{i}", step.AirC);
        }

        foreach (var (layer, i) in layers.Select((l, i) => (l, i)))
        {
            Take($"thickness:{i}", layer.Given.ThicknessMm);
        }

        foreach (var material in layers.Select(l => l.Material).Concat(last is null ? [] : [last]).DistinctBy(m => m.Id))
        {
            Take("k:" + material.Id, material.Conductivity!.Measured);
            Take("rho:" + material.Id, material.Density!.Measured);
            Take("c:" + material.Id, material.SpecificHeat!.Measured);
        }

        switch (conditions.Inner)
        {
            case InnerSide.Last inside:
                Take("last", inside.ThicknessMm);
                break;
            case InnerSide.Film film:
                Take("inner-film", film.HWm2K);
                Take("inner-air", film.AirC);
                break;
        }

        Take("cure", conditions.Cure.Constant);
        _inputs = inputs.ToImmutable();
    }

    public ImmutableArray<OvenLayer> Layers => _layers;

    /// <summary>Layers that cure, from outside to inside.</summary>
    public ImmutableArray<int> Curing => [.. Enumerable.Range(0, _layers.Length).Where(i => _layers[i].Material.Cures)];

    public ReadOnlySpan<Measured> Inputs => _inputs.AsSpan();

    public double[] Values => [.. _inputs.Select(i => i.Value)];

    /// <summary>The slab of given values; what cannot be negative is kept above zero.</summary>
    public Slab Slab(double[] values, int cellsPerLayer)
    {
        double Of(string name) => values[_at[name]];
        double Positive(string name) => Math.Max(Of(name), _inputs[_at[name]].Value / 50);
        SlabLayer Layer(Material material, double mm) => new(mm / 1000, Positive("k:" + material.Id), Positive("rho:" + material.Id) * Positive("c:" + material.Id));
        var layers = _layers.Select((l, i) => Layer(l.Material, Positive($"thickness:{i}"))).ToList();
        if (_last is not null)
        {
            layers.Add(Layer(_last, Positive("last")));
        }

        SlabFace inner = _conditions.Inner is InnerSide.Film ? new SlabFace.SteadyAir(Positive("inner-film"), Of("inner-air")) : new SlabFace.Insulated();
        var from = Of("start");
        var air = ImmutableArray.CreateBuilder<AirStretch>();
        foreach (var (step, i) in _conditions.Program.Select((s, i) => (s, i)))
        {
            air.Add(new AirStretch(step.Minutes * Seconds, from, Of($"air:{i}")));
            from = Of($"air:{i}");
        }

        return new Slab([.. layers], new SlabFace.ProgrammeAir(Positive("film")), inner, Of("start"), air.ToImmutable(), cellsPerLayer);
    }

    public CureLaw Law(double[] values) => _conditions.Cure.Law(values[_at["cure"]]);
}
