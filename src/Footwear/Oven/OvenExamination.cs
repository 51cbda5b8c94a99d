using System.Collections.Immutable;
using Pairbench.Footwear.Materials;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Oven;

/// <summary>
/// Whether each layer stands the oven: one-dimensional transient conduction through the stack, peak of each layer against the limit of its
/// material, equivalent cure of the rubber, and what happens if a layer is changed or a part fitted later goes through the oven.
/// </summary>
/// <remarks>Conduction: see <see cref="SlabHeating"/>. Cure: Arrhenius or a factor per 10 K, see <see cref="CureLaw"/>. Uncertainty: see <see cref="OvenRun"/>.</remarks>
public sealed class OvenExamination : Examination<OvenEvidence>
{
    /// <summary>How the layers of its stack are named.</summary>
    public static LayerIds Layers { get; } = new("stack", "oven", ["cure", "change", "heating-rate", "energy"]);

    public override string Name => "oven";

    public override string Title => "Oven";

    public override int Order => 310;

    public override bool LooksAtSubject => false;

    public override Outcome Examine(OvenEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var faults = new List<Fault>();
        var assumptions = new List<string>();
        var shelf = MaterialShelf.Of(surroundings.Catalogue, evidence.Materials, faults);
        var data = surroundings.Catalogue.Read<OvenFile>(OvenFile.File);
        var conditions = OvenConditions.Of(evidence, data, surroundings.Entry, faults, assumptions);
        var layers = LayersOf(evidence, shelf, faults);
        var last = evidence.Inner is InnerSide.Last inside ? shelf.FindConducting(inside.Material, "inner.material", faults) : null;
        var variants = OvenVariants.Of(evidence, layers, shelf, faults);
        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        var through = Through(layers);
        var run = OvenRun.Of(new OvenStack(through, last, conditions), surroundings.Entry, cancellation);
        var tried = variants.Select(v => (Variant: v, Run: OvenRun.Of(new OvenStack(Through(v.Layers), last, conditions), surroundings.Entry, cancellation))).ToImmutableArray();
        return new Outcome
        {
            Figures = [.. Figures(run, evidence, conditions), .. tried.Select(t => OvenVariants.FigureOf(t.Variant, t.Run)).OfType<Figure>()],
            Tables = [
                OvenTables.Layers(layers, run),
                .. tried.IsEmpty ? ImmutableArray<Table>.Empty : [OvenVariants.Table(tried)],
                .. run.Core is null ? ImmutableArray<Table>.Empty : [OvenTables.Cure(run, evidence.Cure)],
                OvenTables.Balance(run),
                MaterialTable.Of([.. layers.Select(l => l.Material), .. last is null ? [] : new[] { last }, .. variants.SelectMany(v => v.Layers).Select(l => l.Material)])],
            Plates = [OvenPlate.Of(run, conditions)],
            Assumptions = [.. assumptions, .. OvenWords.Assumptions(evidence, conditions, run)],
            Cautions = [.. OvenWords.Cautions(evidence, layers, run)],
            Basis = [
                new Basis(BasisKind.Handbook, "Transient conduction through a composite wall with films, finite volumes with the L-stable scheme of the trapezoidal rule and the second backward difference (R. E. Bank and others, IEEE Transactions on Computer-Aided Design 4)", "1985"),
                new Basis(BasisKind.Handbook, "Equivalent cure by the law of Arrhenius or a factor per 10 K, rubber handbooks"),
                new Basis(BasisKind.Standard, "JCGM 100", "2008"),
                new Basis(BasisKind.Practice, "Limits of materials as data/materials/cards.json states them, each with its source")],
        };
    }

    internal static ImmutableArray<OvenLayer> Through(ImmutableArray<OvenLayer> layers) => [.. layers.Where(l => l.Given.Fitted == Fitted.BeforeOven)];

    internal static ImmutableArray<OvenLayer> LayersOf(OvenEvidence evidence, MaterialShelf shelf, List<Fault> faults)
    {
        var ids = Layers.Of(evidence.Stack.Select(l => (l.Id, (string?)l.Material)), faults);
        var layers = new List<(string Id, StackLayer Given, Material Material)>();
        foreach (var (layer, i) in evidence.Stack.Select((l, i) => (l, i)))
        {
            if (shelf.FindConducting(layer.Material, $"stack[{i}].material", faults) is { } material)
            {
                layers.Add((ids[i], layer, material));
            }
        }

        if (evidence.Stack.All(l => l.Fitted == Fitted.AfterOven))
        {
            faults.Add(new Fault("stack", "has no layer that goes through the oven", "give at least one layer fitted before-oven"));
        }

        return OvenLayer.Named(layers);
    }

    private static IEnumerable<Figure> Figures(OvenRun run, OvenEvidence evidence, OvenConditions conditions)
    {
        var at = FormattableString.Invariant($"{conditions.Cure.ReferenceC:0.#} °C");
        foreach (var layer in run.Layers)
        {
            yield return new Figure($"{layer.Layer.Id}.peak", $"Peak temperature of {layer.Layer.Name}", layer.Peak);
            if (layer.Margin is { } margin)
            {
                yield return new Figure($"{layer.Layer.Id}.margin", $"Margin of {layer.Layer.Name} to its limit", margin, Offer: layer.LimitOfMargin());
            }

            if (layer.AboveSoftening is { } above)
            {
                yield return new Figure($"{layer.Layer.Id}.above-softening", $"Time of {layer.Layer.Name} above its softening", above());
            }

            if (layer.Layer.Material.Cells == FoamCells.Closed)
            {
                yield return new Figure($"{layer.Layer.Id}.gas-volume", $"Gas in {layer.Layer.Name} at its peak, as a share of its first volume, if the cell walls were limp", GasVolume(layer, conditions, evidence.GaugeMPa));
            }
        }

        if (run.Core is { } core && run.Surface is { } surface)
        {
            yield return new Figure("cure.core", $"Cure of the rubber where it is least, equivalent minutes at {at}", core);
            yield return new Figure("cure.surface", $"Cure of the rubber at its outer face, equivalent minutes at {at}", surface);
            if (evidence.Cure?.OptimumMinutes is { } optimum)
            {
                yield return new Figure("cure.core-share", $"Least cure over the optimum of {Display.Of(optimum)} at {at}", Share(core, optimum), Offer: new Limit(100, null, Severity.Major, "optimum cure as stated"));
            }

            if (evidence.Cure?.LongestMinutes is { } longest)
            {
                yield return new Figure("cure.surface-share", $"Cure of the outer face over the longest of {Display.Of(longest)} at {at}", Share(surface, longest), Offer: new Limit(null, 100, Severity.Major, "longest cure as stated"));
            }
        }

        yield return new Figure("heating-rate.surface", $"Fastest rise of the {(run.Core is null ? "outer face" : "outer face of the rubber")} over 5 min", run.SurfaceRate);
    }

    private static Measured Share(Measured part, Measured whole)
    {
        var ratio = Measured.Ratio(part, whole, "1");
        return Measured.Linear("%", (ratio, 100));
    }

    /// <summary>Ideal gas: volume over that at the start, at a room pressure of 0.1 MPa.</summary>
    internal static Measured GasVolume(LayerHeat layer, OvenConditions conditions, Measured? gauge) => Propagation.Of(
        "%",
        v => 100 * (v[1] + 273.15) / (v[0] + 273.15) * 0.1 / (0.1 + v[2]),
        conditions.StartC,
        layer.Peak,
        gauge ?? Measured.Exact(0, "MPa"));
}
