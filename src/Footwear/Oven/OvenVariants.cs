using System.Collections.Immutable;
using Pairbench.Footwear.Materials;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Oven;

/// <summary>A stack to try beside the one that is made.</summary>
/// <param name="Id">Id of the change; names its figure.</param>
/// <param name="Words">What is done.</param>
internal sealed record OvenVariant(string Id, string Words, ImmutableArray<OvenLayer> Layers);

/// <summary>What would happen: the changes of the evidence, and every part that is fitted after the oven put through it.</summary>
internal static class OvenVariants
{
    public static ImmutableArray<OvenVariant> Of(OvenEvidence evidence, ImmutableArray<OvenLayer> layers, MaterialShelf shelf, List<Fault> faults)
    {
        var variants = ImmutableArray.CreateBuilder<OvenVariant>();
        var seen = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (change, i) in evidence.Changes.Select((c, i) => (c, i)))
        {
            var where = $"changes[{i}]";
            if (!seen.Add(change.Id))
            {
                faults.Add(new Fault($"{where}.id", $"'{change.Id}' stands twice", "give each change an id of its own"));
            }

            if (change is { Material: null, ThicknessMm: null, Fitted: null })
            {
                faults.Add(new Fault(where, "changes nothing", "give a material, a thicknessMm or fitted"));
                continue;
            }

            var layer = layers.FirstOrDefault(l => l.Id == change.Layer);
            var material = change.Material is null ? null : shelf.FindConducting(change.Material, $"{where}.material", faults);
            if (layer is null)
            {
                faults.Add(new Fault($"{where}.layer", $"'{change.Layer}' is no layer of the stack", $"give one of {string.Join(", ", layers.Select(l => l.Id))}"));
                continue;
            }

            var stack = OvenLayer.Changed(layers, layer.Id, material, change.ThicknessMm, change.Fitted);
            if (OvenExamination.Through(stack).IsEmpty)
            {
                faults.Add(new Fault(where, "leaves no layer that goes through the oven", "change something else"));
                continue;
            }

            variants.Add(new OvenVariant(change.Id, Words(layer, stack.First(l => l.Id == layer.Id)), stack));
        }

        foreach (var late in layers.Where(l => l.Given.Fitted == Fitted.AfterOven))
        {
            var id = $"{late.Id}-through-the-oven";
            if (seen.Add(id))
            {
                var stack = OvenLayer.Changed(layers, late.Id, null, null, Fitted.BeforeOven);
                variants.Add(new OvenVariant(id, Words(late, stack.First(l => l.Id == late.Id)), stack));
            }
        }

        return variants.ToImmutable();
    }

    /// <summary>The least margin of a variant; null where no layer has a limit.</summary>
    public static Figure? FigureOf(OvenVariant variant, OvenRun run) => Worst(run) is { Margin: { } margin } worst
        ? new Figure($"change.{variant.Id}.least-margin", $"Least margin if {variant.Words}: that of {worst.Layer.Name}", margin)
        : null;

    public static Table Table(ImmutableArray<(OvenVariant Variant, OvenRun Run)> tried) => new(
        "variants",
        "What would happen",
        [new("change", "Change"), new("words", "If"), new("layer", "Layer"), new("peak", "Peak"), new("margin", "Margin"), new("result", "Result"), new("why", "Why")],
        [.. tried.SelectMany(t => Shown(t.Run).Select(l => ImmutableArray.Create<Cell>(
            t.Variant.Id,
            t.Variant.Words,
            l.Layer.Id,
            l.Peak,
            l.Margin is { } margin ? margin : new Cell.Empty(),
            StandsWords.Of(l.Ruling),
            OvenTables.Why(l))))]);

    /// <summary>Layers that do not surely stand it; the one with the least margin where all do.</summary>
    private static List<LayerHeat> Shown(OvenRun run)
    {
        var failing = run.Layers.Where(l => l.Ruling is Ruling.Outside or Ruling.Undecided).OrderBy(l => l.Margin!.Value).ToList();
        return failing.Count > 0 ? failing : Worst(run) is { } worst ? [worst] : [];
    }

    private static LayerHeat? Worst(OvenRun run) => run.Layers.Where(l => l.Margin is not null).MinBy(l => l.Margin!.Value);

    private static string Words(OvenLayer from, OvenLayer to)
    {
        var done = new List<string>();
        if (from.Material.Id != to.Material.Id)
        {
            done.Add($"is {to.Material.Name} in place of {from.Material.Name}");
        }

        if (from.Given.ThicknessMm != to.Given.ThicknessMm)
        {
            done.Add($"is {Display.Of(to.Given.ThicknessMm)} thick in place of {Display.Of(from.Given.ThicknessMm)}");
        }

        if (from.Given.Fitted != to.Given.Fitted)
        {
            done.Add(to.Given.Fitted == Fitted.BeforeOven ? "goes through the oven" : "is fitted after the oven");
        }

        return $"{from.Id} {(done.Count == 0 ? "stays as it is" : string.Join(" and ", done))}";
    }
}
