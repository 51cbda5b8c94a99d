using System.Collections.Immutable;
using Pairbench.Footwear.Materials;
using Pairbench.Footwear.Oven;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Section;

/// <summary>A layer with its thickness.</summary>
internal sealed record CutLayer(string Id, string Name, SectionLayer Given, Material? Material, Measured Thickness)
{
    public Measured? Density => Given.DensityKgM3 ?? Material?.Density?.Measured;

    /// <summary>Mass of the part in a pair, g; null where area or density is not known.</summary>
    public Measured? MassOfPair => Given.AreaDm2 is { } area && Density is { } density
        ? Propagation.Of("g", v => 2 * v[0] * v[1] * v[2] * 0.01, area, Thickness, density)
        : null;

    /// <summary>Water in the part of a pair, g: the mass is that of the conditioned material, its regain a share of the dry one.</summary>
    public Measured? WaterOfPair => MassOfPair is { } mass && Material?.Regain is { } regain
        ? Propagation.Of("g", v => v[0] * v[1] / (100 + v[1]), mass, regain.Measured)
        : null;
}

/// <summary>
/// What a shoe is made of, in which order: thickness of each layer from a photographed cut or as typed, all that lies between foot and ground,
/// mass of a pair, and what a lasting method turns under.
/// </summary>
public sealed class SectionExamination : Examination<SectionEvidence>
{
    /// <summary>How its layers are named.</summary>
    public static LayerIds Layers { get; } = new("layers", "section", ["total", "lasting"]);

    public override string Name => "section";

    public override string Title => "Section";

    public override int Order => 300;

    public override bool LooksAtSubject => false;

    public override Outcome Examine(SectionEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var faults = new List<Fault>();
        var shelf = MaterialShelf.Of(surroundings.Catalogue, evidence.Materials, faults);
        var given = GivenLayers(evidence, faults);
        var ids = Layers.Of(given.Select(l => (l.Id, l.Material)), faults);
        var materials = given.Select((l, i) => l.Material is { } name && IsNeeded(l, name, shelf) ? shelf.Find(name, $"layers[{i}].material", faults) : null).ToList();
        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        IMeasuredCut? cut = evidence.Photo is null ? null : evidence.IsTraced ? TracedCut.Of(evidence, surroundings) : SectionCut.Of(evidence, surroundings);
        var names = LayerNames.Of(given.Select((l, i) => new NamedLayer(ids[i], l.Id, l.Component, materials[i]?.Name ?? l.Material)));
        ImmutableArray<CutLayer> layers = [.. given.Select((l, i) => new CutLayer(ids[i], names[i], l, materials[i], l.ThicknessMm ?? cut!.Thickness(i)))];
        var total = layers.Select(l => l.Thickness).Aggregate((a, b) => a + b);
        var masses = layers.Select(l => l.MassOfPair).OfType<Measured>().ToList();
        return new Outcome
        {
            Figures = [
                .. layers.Select(l => new Figure($"{l.Id}.thickness", $"Thickness of {l.Name}", l.Thickness)),
                new Figure("total.thickness", evidence.Place == SectionPlace.Underfoot ? "Between foot and ground" : "Thickness of the upper", total),
                .. layers.Where(l => l.MassOfPair is not null).Select(l => new Figure($"{l.Id}.mass", $"Mass of {l.Name}, a pair", l.MassOfPair!)),
                .. layers.Where(l => l.WaterOfPair is not null).Select(l => new Figure($"{l.Id}.water", $"Water that {l.Name} holds at 65 % humidity, a pair", l.WaterOfPair!)),
                .. masses.Count > 0 ? [new Figure("total.mass", masses.Count == layers.Length ? "Mass of all layers, a pair" : "Mass of the layers whose area is given, a pair", masses.Aggregate((a, b) => a + b))] : ImmutableArray<Figure>.Empty,
                .. evidence.Lasting is { } lasting ? Lasting.Figures(lasting, surroundings.Entry) : []],
            Tables = [LayersTable(layers, cut, evidence.IsByHand), .. cut is TracedCut traced ? [BoundariesTable(traced)] : ImmutableArray<Table>.Empty, MaterialTable.Of(layers.Select(l => l.Material).OfType<Material>())],
            Plates = [SectionPlate.Of(layers, total, evidence.Place)],
            Assumptions = [.. Assumptions(evidence, layers, cut)],
            Cautions = [.. Cautions(evidence, layers)],
            Basis = [
                new Basis(BasisKind.Standard, "JCGM 100", "2008"),
                .. evidence.Lasting is null ? ImmutableArray<Basis>.Empty : [new Basis(BasisKind.Practice, "Lasting margins, common practice, no source")]],
        };
    }

    private static ImmutableArray<SectionLayer> GivenLayers(SectionEvidence evidence, List<Fault> faults)
    {
        if (evidence.Photo is null)
        {
            if (evidence.IsTraced)
            {
                faults.Add(new Fault("traces", "stand without a photo", "give the photo of the cut that they were traced on, or leave the traces out and type layers with their thicknessMm"));
                return evidence.Layers;
            }

            if (!evidence.Line.IsEmpty || !evidence.Boundaries.IsEmpty)
            {
                faults.Add(new Fault(evidence.Line.IsEmpty ? "boundaries" : "line", "stands without a photo", "give the photo of the cut that it was drawn on, or leave line and boundaries out and type layers with their thicknessMm"));
                return evidence.Layers;
            }

            if (evidence.Layers.IsEmpty)
            {
                faults.Add(new Fault("layers", "is missing, and so is a photo", "give layers with their thicknessMm, or a photo with line and boundaries"));
            }

            faults.AddRange(evidence.Layers.Select((l, i) => (l, i)).Where(l => l.l.ThicknessMm is null).Select(l => new Fault($"layers[{l.i}].thicknessMm", "is missing", "give it in mm, or give a photo with line and boundaries")));
            return evidence.Layers;
        }

        if (evidence.IsTraced && (!evidence.Line.IsEmpty || !evidence.Boundaries.IsEmpty))
        {
            faults.Add(new Fault("traces", "stand beside a line with boundaries", "give either"));
            return evidence.Layers;
        }

        var (where, count) = evidence.IsTraced ? ("traces", evidence.Traces.Length) : ("boundaries", evidence.Boundaries.Length);
        if (!evidence.IsTraced && evidence.Line.Length != 2)
        {
            faults.Add(new Fault("line", "is missing", "give [[x, y] outside, [x, y] inside] across the cut, or traces along the boundaries"));
        }

        if (count < 2)
        {
            faults.Add(new Fault(where, $"has {count}", "give at least two: where the outermost layer begins and where it ends"));
            return evidence.Layers;
        }

        if (!evidence.Layers.IsEmpty && evidence.Layers.Length != count - 1)
        {
            faults.Add(new Fault("layers", $"has {evidence.Layers.Length} for {count} boundaries", $"give {count - 1}, one between every two boundaries"));
        }

        return evidence.Layers.IsEmpty ? [.. Enumerable.Range(0, count - 1).Select(_ => new SectionLayer())] : evidence.Layers;
    }

    /// <summary>A material without a card is only a fault where its density is needed.</summary>
    private static bool IsNeeded(SectionLayer layer, string name, MaterialShelf shelf)
    {
        var ignored = new List<Fault>();
        return layer is { AreaDm2: not null, DensityKgM3: null } || shelf.Find(name, "", ignored) is not null;
    }

    private static Table LayersTable(ImmutableArray<CutLayer> layers, IMeasuredCut? cut, bool byHand) => new(
        "layers",
        "Layers from outside to inside",
        [new("layer", "Layer"), new("material", "Material"), new("thickness", "Thickness"), new("from", "Taken from"), new("density", "Density"), new("oven", "Oven"), new("limit", "Heat limit"), .. cut is TracedCut ? [new Column("spread", "Along the path")] : ImmutableArray<Column>.Empty],
        [.. layers.Select((l, i) => ImmutableArray.CreateRange<Cell>([
            l.Id,
            l.Material?.Name ?? l.Given.Material ?? "not stated",
            l.Thickness,
            l.Given.ThicknessMm is not null || cut is null ? "typed" : cut.IsFound(i) && cut.IsFound(i + 1) ? "edges found in the picture" : byHand ? "drawn by hand, no edge looked for" : "drawn by hand where no edge stood out",
            l.Density is { } density ? density : new Cell.Empty(),
            l.Given.Fitted switch { Fitted.BeforeOven => "goes through", Fitted.AfterOven => "fitted after", _ => "not stated" },
            l.Material?.Limit is { } limit ? limit.Measured : new Cell.Empty(),
            .. cut?.Spread(i) is { } spread ? [spread.Words] : ImmutableArray<Cell>.Empty]))]);

    private static Table BoundariesTable(TracedCut cut) => new(
        "boundaries",
        "Boundaries as found",
        [new("boundary", "Boundary"), new("pixels", "Places in the photograph, px")],
        [.. cut.Boundaries.Select((b, i) => ImmutableArray.Create<Cell>(
            FormattableString.Invariant($"{i + 1}"),
            new Cell.Places([.. b.Places], 1)))]);

    private static IEnumerable<string> Assumptions(SectionEvidence evidence, ImmutableArray<CutLayer> layers, IMeasuredCut? cut)
    {
        foreach (var assumption in cut?.Assumptions ?? [])
        {
            yield return assumption;
        }

        if (cut is not null)
        {
            yield return cut.Way;
            if (evidence.IsByHand)
            {
                yield return "No edge was looked for (snapPx is below 1): every boundary is taken where it was drawn.";
            }
            else if (Enumerable.Range(0, cut.BoundaryCount).Where(b => !cut.IsFound(b)).Select(b => $"boundary {b + 1}").ToList() is { Count: > 0 } unseen)
            {
                yield return $"No edge stood out at {string.Join(", ", unseen)}: taken where it was drawn.";
            }
        }

        var typed = layers.Where(l => l.Given.ThicknessMm is { IsExact: true }).Select(l => l.Id).ToList();
        if (typed.Count > 0)
        {
            yield return $"Typed without uncertainty and taken as exact: {string.Join(", ", typed)}.";
        }

        foreach (var layer in layers.Where(l => l.Given.Material is not null && l.Material is null))
        {
            yield return $"{layer.Id}: {layer.Given.Material} has no card; its density and heat limit are not known.";
        }

        foreach (var line in evidence.Lasting is { } lasting ? Lasting.Assumptions(lasting) : [])
        {
            yield return line;
        }
    }

    private static IEnumerable<string> Cautions(SectionEvidence evidence, ImmutableArray<CutLayer> layers)
    {
        if (evidence.Photo is not null)
        {
            yield return "A blade squeezes soft layers and drags fabric over the cut: cut with a fresh blade, away from the hand and in a holder, and photograph the face square on.";
        }

        if (layers.Any(l => l.Material?.Cells is FoamCells.Open or FoamCells.Closed))
        {
            yield return "A foam is thinner under load than in the picture.";
        }
    }
}
