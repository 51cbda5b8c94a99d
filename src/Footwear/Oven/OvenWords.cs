using System.Collections.Immutable;
using Pairbench.Footwear.Materials;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Oven;

/// <summary>What the oven takes for granted and what its reader must heed.</summary>
internal static class OvenWords
{
    public static IEnumerable<string> Assumptions(OvenEvidence evidence, OvenConditions conditions, OvenRun run)
    {
        yield return FormattableString.Invariant($"The stack is reckoned until the end of the programme, {conditions.Minutes:0.#} min; put the cooling into the programme to see it.");
        if (evidence.Inner is InnerSide.Last last)
        {
            yield return $"The last is {Display.Of(last.ThicknessMm)} of {last.Material} that loses no heat on its far side: half of a solid one, or the wall of a hollow one.";
        }

        if (evidence.AirFilm is { IsExact: true })
        {
            yield return "The air film is taken as known exactly: give its standard uncertainty.";
        }

        var exact = run.Layers.Where(l => l.Layer.Given.ThicknessMm.IsExact).Select(l => l.Layer.Id).ToList();
        if (exact.Count > 0)
        {
            yield return $"Taken as known exactly: the thickness of {string.Join(", ", exact)}.";
        }

        if (run.Core is not null)
        {
            yield return $"Cure is counted with {conditions.Cure.Words}; reaction heat and changes of the compound are left out.";
        }
    }

    public static IEnumerable<string> Cautions(OvenEvidence evidence, ImmutableArray<OvenLayer> layers, OvenRun run)
    {
        foreach (var layer in run.Layers.Where(l => l.Ruling is Ruling.Outside))
        {
            yield return $"{layer.Layer.Name} {OvenTables.Why(layer)}. Fit it after the oven, take another material, or cure cooler and longer.";
        }

        if (run.Layers.Where(l => l.Rise is not null).ToImmutableArray() is { IsEmpty: false } rising)
        {
            var each = rising.Select(l => FormattableString.Invariant($"{l.Layer.Name} ({l.Peak.Value:0} °C, by {l.Rise!.RateKmin:0.0#} K a minute, at most {l.Rise.AtMostK:0.#} K more)"));
            yield return $"Still getting hotter when the programme ended, from hotter layers beside: {string.Join(", ", each)}. What is reckoned is no peak yet: add the cooling to the programme.";
        }

        foreach (var layer in run.Layers.Where(l => l.Layer.Material.Note.Length > 0))
        {
            yield return $"{layer.Layer.Name}: {layer.Layer.Material.Note}";
        }

        foreach (var layer in run.Layers.Where(l => l.Layer.Material.Cells == FoamCells.Closed && l.Layer.Material.Softening is { } soft && soft.Measured.Value < l.Peak.Value))
        {
            yield return evidence.GaugeMPa is { Value: > 0 }
                ? $"{layer.Layer.Name} is soft at its peak: the pressure crushes its closed cells and it stays small."
                : $"{layer.Layer.Name} is soft at its peak: without pressure the gas in its closed cells blows it up.";
        }

        if (run.Core is not null)
        {
            yield return "Rubber heated too fast blisters: moisture and solvent boil. Hold the rise against what the compound stands; pressure keeps it from foaming and does not cure.";
            yield return "The order of curing matters as much as the heat: the outsole must not set before the foxing, sponge starts to cure just after it starts to blow, cement just after its strip.";
            if (layers.Any(l => l.Material.Id.StartsWith("canvas-polyester", StringComparison.Ordinal) || l.Material.Id.StartsWith("polyester", StringComparison.Ordinal)))
            {
                yield return "Disperse dye can move from polyester into light rubber at 110 to 130 °C with no layer at its limit: try the colour.";
            }
        }

        yield return "Left out: resistance of the contacts between layers, moisture that dries and boils, heat of the reaction, heat along the layers, the edges. The air beside the shoe is not the air at the gauge.";
        yield return "A reckoning does not release a process: a plant trial with thermocouples between the layers decides, run by the people who may run that oven or pressure vessel under the local rules.";
    }
}
