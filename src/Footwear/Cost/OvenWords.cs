using Pairbench.Footwear.Oven;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>What a change does in the oven, in words; where it is not in figures, what to enter.</summary>
internal static class OvenWords
{
    private const string Trial = "A plant trial with thermocouples between the layers decides.";

    public static IEnumerable<(string What, string Words)> Of(TriedChange tried)
    {
        if (tried.Trial.Oven is not { } move)
        {
            if ((tried.Trial.Change is { Strobel: not null } or { Add.IsEmpty: false } || tried.Trial.Change.Lines.Any(l => l.Material is not null)) && tried.Trial.Sheet.OvenSheet is null)
            {
                yield return ("oven", "Another material has another heat limit, and its margin in the oven is not in figures: enter the stack as ovenSheet of the cost sheet, { \"evidenceOf\": \"oven/main\" } if the review has an oven entry, else layers, programme and what lies inside.");
            }

            yield break;
        }

        foreach (var layer in move.Layers)
        {
            yield return ("oven", Layer(layer, move.Source));
        }

        if (move.Least is { Margin: { } least } weakest && !(move.Layers is [{ After: not null } only] && only.Now.Id == weakest.Layer.Id))
        {
            yield return ("oven", $"Least margin of the changed stack: {Display.Of(least)}, that of {weakest.Layer.Name}. {Stands(least)}");
        }

        foreach (var note in move.Notes)
        {
            yield return ("oven", note);
        }
    }

    /// <summary>What goes over its limit, or may; a caution and no ruling, as a change that is only thought of decides nothing about the shoe.</summary>
    public static IEnumerable<string> Cautions(TriedChange tried) => (tried.Trial.Oven?.Over ?? []).Select(h =>
        $"{tried.Trial.Change.Name}: {h.Layer.Name} {(h.Ruling == Ruling.Outside ? "goes" : "may go")} over its limit in the oven, with a probability of {Shown.Probability(h.Margin!.ProbabilityAtMost(0))}; margin {Display.Of(h.Margin)} ({h.LimitOfMargin().Source}). {Trial}");

    private static string Layer(LayerMove layer, string source) => (layer.Now.Given.Fitted, layer.After) switch
    {
        (Fitted.AfterOven, _) => $"{layer.Now.Name} is fitted after the oven by {source} and does not go through it.",
        (_, null) => $"The card of {layer.Now.Material.Name} states no limit: {layer.Now.Id} has no margin. Enter limitC for it under materials of {source}.",
        (_, { } after) => $"Margin of {layer.Now.Name} to its limit in the oven: {Display.Of(after)}{Before(layer)}. {Stands(after)}",
    };

    private static string Before(LayerMove layer) => layer.Was.Given.Fitted == Fitted.AfterOven ? ", where it did not go through before" : layer.Before is { } before ? $", {Display.Of(before)} before with {layer.Was.Material.Name}" : $", none known before with {layer.Was.Material.Name}";

    private static string Stands(Measured margin) => $"It stands the oven with a probability of {Shown.Probability(1 - margin.ProbabilityAtMost(0))}. {Trial}";
}
