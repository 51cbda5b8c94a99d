using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Oven;

internal static class OvenTables
{
    /// <summary>Every layer of the stack from outside to inside, those that are fitted later among them.</summary>
    public static Table Layers(ImmutableArray<OvenLayer> layers, OvenRun run) => new(
        "layers",
        "Layers from outside to inside",
        [new("layer", "Layer"), new("material", "Material"), new("thickness", "Thickness"), new("oven", "Oven"), new("limit", "Limit"), new("peak", "Peak"), new("peakAt", "Peak after"), new("result", "Result"), new("why", "Why")],
        [.. layers.Select(l => run.Layers.FirstOrDefault(h => h.Layer.Id == l.Id) is { } heat
            ? ImmutableArray.Create<Cell>(l.Id, l.Name, l.Given.ThicknessMm, "goes through", Limit(l), heat.Peak, Measured.Exact(Math.Round(heat.PeakAtMinutes, 1), "min"), StandsWords.Of(heat.Ruling), Why(heat))
            : [l.Id, l.Name, l.Given.ThicknessMm, "fitted after", Limit(l), new Cell.Empty(), new Cell.Empty(), "not heated", "fitted after the oven"])]);

    public static Table Cure(OvenRun run, CureOf? wanted) => new(
        "cure",
        "Cure of each layer that cures in the oven",
        [new("layer", "Layer"), new("least", "Where it is least"), new("state", "State")],
        [.. run.Layers.Where(l => l.Core is not null).Select(l => ImmutableArray.Create<Cell>(l.Layer.Id, l.Core!, State(l.Core!, run.Surface!, wanted)))]);

    public static Table Balance(OvenRun run) => new(
        "energy",
        "Energy balance of the reckoning, per square metre of stack",
        [new("quantity", "Quantity"), new("value", "Value")],
        [
            ["heat that came in through both faces", Measured.Exact(run.Balance.HeatInJm2, "J/m2")],
            ["heat that the stack and last hold more than at the start", Measured.Exact(run.Balance.HeatStoredJm2, "J/m2")],
            ["difference as a share of the heat turned over", run.Balance.Imbalance.ToString("0.0e+0", CultureInfo.InvariantCulture)],
            ["steps of time", run.Balance.Steps.Sum(s => s.Length).ToString(CultureInfo.InvariantCulture)],
        ]);

    /// <summary>Why a layer stands the oven or not.</summary>
    public static string Why(LayerHeat heat)
    {
        if (heat.Margin is not { } margin || heat.Layer.Material.Limit is not { } limit)
        {
            return "its card states no limit";
        }

        var reason = $"the limit is {Display.Of(limit.Measured)}: {limit.Source}";
        return heat.Ruling switch
        {
            Ruling.Within => $"stays {Display.Of(margin)} below its limit",
            Ruling.Outside => $"reaches {Display.Of(heat.Peak)}, {Number(-margin.Value)} K above its limit; {reason}",
            _ => $"reaches {Display.Of(heat.Peak)}{(heat.Rise is null ? "" : " and was still getting hotter at the end of the programme")}, a margin of {Display.Of(margin)}: neither proved; {reason}",
        };
    }

    public static string State(Measured core, Measured surface, CureOf? wanted)
    {
        if (wanted?.OptimumMinutes is not { } optimum)
        {
            return "no optimum stated";
        }

        var least = Measured.Ratio(core, optimum, "1");
        var lower = least.ProbabilityAtMost(1);
        if (lower >= 0.95)
        {
            return "under-cured";
        }

        if (wanted.LongestMinutes is { } longest && Measured.Ratio(surface, longest, "1").ProbabilityAtMost(1) <= 0.05)
        {
            return "over-cured at the outer face";
        }

        return lower > 0.05 ? "undecided" : "cured";
    }

    private static Cell Limit(OvenLayer layer) => layer.Material.Limit is { } limit ? limit.Measured : new Cell.Empty();

    private static string Number(double value) => value.ToString(Math.Abs(value) < 10 ? "0.0" : "0", CultureInfo.InvariantCulture);
}
