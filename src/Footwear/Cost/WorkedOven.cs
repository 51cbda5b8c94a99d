using System.Collections.Immutable;
using Pairbench.Footwear.Oven;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>A layer with another material, thickness or place in the order of work.</summary>
/// <param name="Before">Margin to the limit of its material as it is, K; null where it has no limit or does not go through the oven.</param>
/// <param name="After">The same as changed.</param>
internal sealed record LayerMove(OvenLayer Was, OvenLayer Now, Measured? Before, Measured? After);

/// <summary>What a change does in the oven.</summary>
/// <param name="Least">The layer of the changed stack with the least margin; null where none has a limit.</param>
/// <param name="Over">Layers of the changed stack that go over their limit, or may, and did not so surely before or are changed.</param>
/// <param name="Notes">What could not be put into figures, and what to enter for it.</param>
internal sealed record OvenMove(string Source, ImmutableArray<LayerMove> Layers, LayerHeat? Least, ImmutableArray<LayerHeat> Over, ImmutableArray<string> Notes);

/// <summary>Works the margins in the oven out anew for each change of a material.</summary>
internal sealed class WorkedOven
{
    private readonly OvenTrial _trial;
    private readonly string _source;
    private readonly Lazy<ImmutableArray<LayerHeat>> _asItIs;
    private readonly CancellationToken _cancellation;
    private readonly bool _isSound;

    /// <param name="entry">Id of the cost entry: that of the causes of a stack that is written in it.</param>
    public WorkedOven(OvenSheet sheet, Catalogue catalogue, string entry, List<Fault> faults, CancellationToken cancellation)
    {
        var own = new List<Fault>();
        _source = sheet.EvidenceOf ?? "the stack of this sheet";
        _cancellation = cancellation;
        _trial = new OvenTrial(sheet.Stack, catalogue, EntryAddress.Read(sheet.EvidenceOf ?? "")?.Entry ?? $"cost-{entry}", own);
        _asItIs = new(() => _trial.Run(_trial.Layers, cancellation));
        _isSound = own.Count == 0;
        faults.AddRange(own.Select(f => f with { Where = "ovenSheet." + f.Where }));
    }

    /// <summary>Tells what is wrong with what a change says of the stack.</summary>
    /// <param name="where">Place of the change.</param>
    public void Check(CostEvidence sheet, CostChange change, string where, List<Fault> faults)
    {
        if (_isSound)
        {
            OncePerLayer(change.Oven, where, faults);
            _trial.With([.. change.Oven, .. Changed(sheet, change, [])], where + ".oven", faults);
        }
    }

    /// <summary>What a change without faults does; null where it touches no layer and no material.</summary>
    public OvenMove? Of(CostEvidence sheet, CostChange change)
    {
        var notes = new List<string>();
        var found = Changed(sheet, change, notes);
        notes.AddRange(Gone(sheet, change));
        if (change.Oven.IsEmpty && found.IsEmpty)
        {
            return notes.Count == 0 ? null : new OvenMove(_source, [], null, [], [.. notes]);
        }

        var now = _trial.With([.. change.Oven, .. found], "", new List<Fault>()) ?? throw new InvalidOperationException("A change is checked before it is run.");
        var heats = _trial.Run(now, _cancellation);
        var changed = change.Oven.Select(l => _trial.Find(l.Layer)!.Id).Concat(found.Select(l => l.Layer)).Distinct().ToArray();
        notes.AddRange(found.Select(l => l.Layer).Where(id => !change.Oven.Any(l => l.ThicknessMm is not null && _trial.Find(l.Layer)!.Id == id)).Select(id => $"Layer {id} is taken to stay {Display.Of(now.Single(l => l.Id == id).Given.ThicknessMm)} thick; give thicknessMm under oven of the change where it is not."));
        return new OvenMove(
            _source,
            [.. changed.Select(id => new LayerMove(_trial.Layers.Single(l => l.Id == id), now.Single(l => l.Id == id), MarginOf(_asItIs.Value, id), MarginOf(heats, id)))],
            heats.Where(h => h.Margin is not null).MinBy(h => h.Margin!.Value),
            [.. heats.Where(h => h.Ruling is Ruling.Outside or Ruling.Undecided && (changed.Contains(h.Layer.Id) || _asItIs.Value.FirstOrDefault(w => w.Layer.Id == h.Layer.Id)?.Ruling != h.Ruling))],
            [.. notes]);
    }

    /// <summary>Layers that lines of another material are.</summary>
    private ImmutableArray<LayerChange> Changed(CostEvidence sheet, CostChange change, List<string> notes) =>
        Fall([.. Materials(sheet, change).Select(m => Found(m, change.Oven, notes)).OfType<LayerChange>()], notes);

    /// <summary>A layer may be named by its id and by its component; it is still one.</summary>
    private void OncePerLayer(ImmutableArray<LayerChange> named, string where, List<Fault> faults)
    {
        foreach (var twice in named.Where(l => _trial.Find(l.Layer) is not null).GroupBy(l => _trial.Find(l.Layer)!.Id, l => l.Layer, StringComparer.Ordinal))
        {
            if (twice.Distinct(StringComparer.Ordinal).ToArray() is { Length: > 1 } names)
            {
                faults.Add(new Fault(where + ".oven", $"names layer {twice.Key} more than once, as {string.Join(" and ", names.Select(n => $"'{n}'"))}", "name each layer once, with all that is other of it"));
            }
        }
    }

    /// <summary>One material for each layer; where several fall on it, that is told.</summary>
    private static ImmutableArray<LayerChange> Fall(ImmutableArray<LayerChange> found, List<string> notes)
    {
        foreach (var several in found.GroupBy(l => l.Layer, StringComparer.Ordinal))
        {
            if (several.Select(l => l.Material).Distinct(StringComparer.Ordinal).ToArray() is { Length: > 1 } materials)
            {
                notes.Add($"{string.Join(" and ", materials)} both fall on layer {several.Key} of the stack, which is run with {materials[0]} alone: enter the layer with its material under oven of the change where it is the other.");
            }
        }

        return [.. found.DistinctBy(l => l.Layer)];
    }

    /// <summary>Parts that are gone from the bill and not from the stack.</summary>
    private IEnumerable<string> Gone(CostEvidence sheet, CostChange change)
    {
        var stay = sheet.Lines.Where(l => !change.Remove.Contains(l.Id)).Concat(change.Add).Select(LayerOf).OfType<OvenLayer>().Select(l => l.Id)
            .Concat(change.Oven.Select(l => _trial.Find(l.Layer)?.Id)).ToHashSet();
        return sheet.Lines.Where(l => change.Remove.Contains(l.Id)).Select(l => (Line: l, Layer: LayerOf(l))).Where(p => p.Layer is { } layer && !stay.Contains(layer.Id))
            .Select(p => $"{p.Line.Component} is gone from the bill and stays in the stack as layer {p.Layer!.Id}: margins here are with it. To run the stack without it enter {{ \"layer\": \"{p.Layer.Id}\", \"fitted\": \"after-oven\" }} under oven of the change.");
    }

    private OvenLayer? LayerOf(CostLine line) => _trial.Find(line.Id) ?? _trial.Find(line.Component);

    /// <summary>Lines of the bill that are of another material, with that material; a sock is the layer of the board it replaces.</summary>
    private static IEnumerable<(ImmutableArray<CostLine> Lines, string Material, bool IsOfBill)> Materials(CostEvidence sheet, CostChange change) => [
        .. change.Lines.Where(c => c.Material is not null)
            .Select(c => (Lines: sheet.Lines.Where(l => l.Id == c.Id && l.Material != c.Material).ToImmutableArray(), c.Material!, true)).Where(m => !m.Lines.IsEmpty),
        .. change.Strobel is { } strobel ? [(sheet.Lines.Where(l => strobel.Board.Contains(l.Id)).ToImmutableArray(), strobel.Sock.Material, true)] : ImmutableArray<(ImmutableArray<CostLine>, string, bool)>.Empty,
        .. change.Add.Select(l => (ImmutableArray.Create(l), l.Material, false))];

    private LayerChange? Found((ImmutableArray<CostLine> Lines, string Material, bool IsOfBill) other, ImmutableArray<LayerChange> named, List<string> notes)
    {
        var part = string.Join(", ", other.Lines.Select(l => l.Component));
        var layer = other.Lines.Select(LayerOf).FirstOrDefault(l => l is not null);
        if (layer is null)
        {
            // A layer that is entered with this very material is the answer to the note.
            if (named.Any(l => string.Equals(l.Material, other.Material, StringComparison.OrdinalIgnoreCase)))
            {
                return null;
            }

            notes.Add($"No layer of {_source} is called {part}: if it goes through the oven, enter under oven of the change which layer it is ({string.Join(", ", _trial.Layers.Select(l => l.Id))}) and its material card.");
            return null;
        }

        if (other.Lines.FirstOrDefault(l => other.IsOfBill && LayerOf(l)?.Id == layer.Id && !IsOf(layer, l.Material)) is { } otherwise)
        {
            notes.Add($"Layer {layer.Id} of {_source} holds {layer.Material.Name}, the bill has {otherwise.Material} for {otherwise.Component}: the margin before is that of {layer.Material.Name}.");
        }

        if (named.Any(l => l.Material is not null && _trial.Find(l.Layer)?.Id == layer.Id))
        {
            return null;
        }

        if (!_trial.Knows(other.Material))
        {
            notes.Add($"'{other.Material}' has no card to reckon with: its margin as layer {layer.Id} is not known. Enter under oven of the change {{ \"layer\": \"{layer.Id}\", \"material\": a card }}, or its card under materials of {_source}.");
            return null;
        }

        return new LayerChange(layer.Id, other.Material);
    }

    private static bool IsOf(OvenLayer layer, string material) =>
        string.Equals(layer.Material.Name, material, StringComparison.OrdinalIgnoreCase) || string.Equals(layer.Given.Material, material, StringComparison.OrdinalIgnoreCase);

    private static Measured? MarginOf(ImmutableArray<LayerHeat> heats, string layer) => heats.FirstOrDefault(h => h.Layer.Id == layer)?.Margin;
}
