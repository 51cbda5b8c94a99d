using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Materials;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Oven;

/// <summary>A layer of the stack that is other; what is absent stays.</summary>
/// <param name="Layer">Id of the layer, or its component.</param>
[CalledBy(nameof(LayerChange.Layer), nameof(LayerChange.Material))]
public sealed record LayerChange(
    [MinLength(1), Description("the id of a layer")] string Layer,
    [MinLength(1), Description("a material card")] string? Material = null,
    [InUnit("mm"), Range(StackLayer.LeastMm, StackLayer.MostMm)] Measured? ThicknessMm = null,
    Fitted? Fitted = null);

/// <summary>A stack with its oven, made ready to be put through with other layers.</summary>
internal sealed class OvenTrial
{
    private readonly MaterialShelf _shelf;
    private readonly OvenConditions _conditions;
    private readonly Material? _last;
    private readonly string _entry;

    /// <param name="entry">Entry that the evidence is of: causes of its own carry it.</param>
    /// <param name="faults">Takes what is wrong with the evidence.</param>
    public OvenTrial(OvenEvidence evidence, Catalogue catalogue, string entry, ICollection<Fault> faults)
    {
        var found = new List<Fault>();
        _entry = entry;
        _shelf = MaterialShelf.Of(catalogue, evidence.Materials, found);
        _conditions = OvenConditions.Of(evidence, catalogue.Read<OvenFile>(OvenFile.File), entry, found, []);
        Layers = OvenExamination.LayersOf(evidence, _shelf, found);
        _last = evidence.Inner is InnerSide.Last inside ? _shelf.FindConducting(inside.Material, "inner.material", found) : null;
        found.ForEach(faults.Add);
    }

    public ImmutableArray<OvenLayer> Layers { get; }

    /// <summary>The layer of an id, else the only one of a component; null where there is none.</summary>
    public OvenLayer? Find(string name) => Layers.FirstOrDefault(l => l.Id == name)
        ?? (Layers.Where(l => string.Equals(l.Given.Component, name, StringComparison.OrdinalIgnoreCase)).ToArray() is [var only] ? only : null);

    /// <summary>Whether a material has a card that the oven can be reckoned with.</summary>
    public bool Knows(string material) => _shelf.FindConducting(material, "", new List<Fault>()) is not null;

    /// <summary>The stack with other layers; null where a fault is told.</summary>
    /// <param name="where">Place of the list of changes.</param>
    public ImmutableArray<OvenLayer>? With(ImmutableArray<LayerChange> changes, string where, ICollection<Fault> faults)
    {
        var (stack, sound) = (Layers, true);
        foreach (var (change, i) in changes.Select((c, i) => (c, i)))
        {
            var material = change.Material is null ? null : _shelf.FindConducting(change.Material, $"{where}[{i}].material", faults);
            if (Find(change.Layer) is not { } layer)
            {
                faults.Add(new Fault($"{where}[{i}].layer", $"'{change.Layer}' is no layer of the stack", $"give one of {string.Join(", ", Layers.Select(l => l.Id))}"));
                sound = false;
                continue;
            }

            sound &= (material is null) == (change.Material is null);
            stack = OvenLayer.Changed(stack, layer.Id, material, change.ThicknessMm, change.Fitted);
        }

        if (sound && OvenExamination.Through(stack).IsEmpty)
        {
            faults.Add(new Fault(where, "leaves no layer that goes through the oven", "change something else"));
            sound = false;
        }

        return sound ? stack : null;
    }

    /// <summary>Each layer after the oven, those that go through it.</summary>
    public ImmutableArray<LayerHeat> Run(ImmutableArray<OvenLayer> layers, CancellationToken cancellation) =>
        OvenRun.Of(new OvenStack(OvenExamination.Through(layers), _last, _conditions), _entry, cancellation).Layers;
}
