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
/// <param name="Notes">What could not be put into figures, and what to enter for it.</param>
internal sealed record OvenMove(string Source, ImmutableArray<LayerMove> Layers, LayerHeat? Least, ImmutableArray<string> Notes);

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
        _trial = new OvenTrial(sheet.Stack, catalogue, sheet.EvidenceOf?.Split('/')[1] ?? $"cost-{entry}", own);
        _asItIs = new(() => _trial.Run(_trial.Layers, cancellation));
        _isSound = own.Count == 0;
        faults.AddRange(own.Select(f => f with { Where = "ovenSheet." + f.Where }));
    }

    /// <summary>What a change does; null where it touches no layer and no material, or where a fault is told.</summary>
    /// <param name="where">Place of the change.</param>
    /// <param name="run">False where faults are only looked for.</param>
    public OvenMove? Of(CostEvidence sheet, CostChange change, string where, List<Fault> faults, bool run)
    {
        if (!_isSound)
        {
            return null;
        }

        var notes = new List<string>();
        var named = change.Oven.Select(l => _trial.Find(l.Layer)?.Id).ToHashSet(StringComparer.Ordinal);
        ImmutableArray<LayerChange> found = [.. Materials(sheet, change).Select(m => Found(m, named, notes)).OfType<LayerChange>().DistinctBy(l => l.Layer)];
        var before = faults.Count;
        var stack = _trial.With([.. change.Oven, .. found], where + ".oven", faults);
        if (stack is not { } now || faults.Count > before || !run || (change.Oven.IsEmpty && found.IsEmpty && notes.Count == 0))
        {
            return null;
        }

        if (change.Oven.IsEmpty && found.IsEmpty)
        {
            return new OvenMove(_source, [], null, [.. notes]);
        }

        var heats = _trial.Run(now, _cancellation);
        var changed = change.Oven.Select(l => _trial.Find(l.Layer)!.Id).Concat(found.Select(l => l.Layer)).Distinct();
        notes.AddRange(found.Select(l => l.Layer).Select(id => $"Layer {id} is taken to stay {Display.Of(now.Single(l => l.Id == id).Given.ThicknessMm)} thick; give thicknessMm under oven of the change where it is not."));
        return new OvenMove(
            _source,
            [.. changed.Select(id => new LayerMove(_trial.Layers.Single(l => l.Id == id), now.Single(l => l.Id == id), MarginOf(_asItIs.Value, id), MarginOf(heats, id)))],
            heats.Where(h => h.Margin is not null).MinBy(h => h.Margin!.Value),
            [.. notes]);
    }

    /// <summary>Lines of the bill that are of another material, with that material; a sock is the layer of the board it replaces.</summary>
    private static IEnumerable<(ImmutableArray<CostLine> Lines, string Material)> Materials(CostEvidence sheet, CostChange change) => [
        .. change.Lines.Where(c => c.Material is not null)
            .Select(c => (Lines: sheet.Lines.Where(l => l.Id == c.Id && l.Material != c.Material).ToImmutableArray(), c.Material!)).Where(m => !m.Lines.IsEmpty),
        .. change.Strobel is { } strobel ? [(sheet.Lines.Where(l => strobel.Board.Contains(l.Id)).ToImmutableArray(), strobel.Sock.Material)] : ImmutableArray<(ImmutableArray<CostLine>, string)>.Empty,
        .. change.Add.Select(l => (ImmutableArray.Create(l), l.Material))];

    private LayerChange? Found((ImmutableArray<CostLine> Lines, string Material) other, HashSet<string?> named, List<string> notes)
    {
        var part = string.Join(", ", other.Lines.Select(l => l.Component));
        var layer = other.Lines.Select(l => _trial.Find(l.Id) ?? _trial.Find(l.Component)).FirstOrDefault(l => l is not null);
        if (named.Count > 0 && (layer is null || named.Contains(layer.Id)))
        {
            return null;
        }

        if (layer is null)
        {
            notes.Add($"No layer of {_source} is called {part}: if it goes through the oven, enter under oven of the change which layer it is ({string.Join(", ", _trial.Layers.Select(l => l.Id))}) and its material card.");
            return null;
        }

        if (!_trial.Knows(other.Material))
        {
            notes.Add($"'{other.Material}' has no card to reckon with: its margin as layer {layer.Id} is not known. Enter under oven of the change {{ \"layer\": \"{layer.Id}\", \"material\": a card }}, or its card under materials of {_source}.");
            return null;
        }

        return new LayerChange(layer.Id, other.Material);
    }

    private static Measured? MarginOf(ImmutableArray<LayerHeat> heats, string layer) => heats.FirstOrDefault(h => h.Layer.Id == layer)?.Margin;
}
