using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>What one change does, in figures.</summary>
/// <param name="Difference">Landed after less before, per pair.</param>
/// <param name="Branches">What it costs on each duty line that remains; none where the line is decided.</param>
/// <param name="ForVolume">The same over the volume; null where none is given, or where the change has another.</param>
internal sealed record TriedChange(
    ChangeTrial Trial,
    Measured Landed,
    Measured FobDifference,
    Measured Duty,
    Measured DutyDifference,
    Measured Difference,
    Simulated Draws,
    Measured? ForVolume,
    Measured? MassDifference,
    ImmutableArray<BreakEven> BreakEvens,
    ImmutableArray<string> OtherMaterials,
    ImmutableArray<BranchCost> Branches)
{
    public static TriedChange Of(ChangeTrial trial, CostEvidence sheet, CostFigures figures, Currencies currencies, CostInputs inputs)
    {
        var (difference, draws) = trial.Difference(figures);
        var (before, after) = (figures.Steps(trial.Before), figures.Steps(trial.After));
        return new TriedChange(
            trial,
            Step.All.Single(s => s.Id == "landed").Of(trial.After, figures),
            figures.Amount(after.Fob - before.Fob, x => trial.After.Evaluate(x).Fob - trial.Before.Evaluate(x).Fob),
            figures.Duty(trial.After),
            figures.DutyDifference(trial.Before, trial.After),
            difference,
            draws,
            trial.Change.Volume is null && sheet.Volume is { } volume ? Measured.Product(difference, volume, sheet.Currency) : null,
            trial.MassDifference(sheet),
            trial.BreakEvens(figures, currencies, inputs),
            Others(trial, sheet),
            trial.Duty?.Sheet.Costs(figures) ?? []);
    }

    public IEnumerable<Figure> Figures()
    {
        var (id, name) = (Trial.Change.Id, Trial.Change.Name);
        yield return new Figure($"{id}.landed", $"{name}: landed, per pair", Landed);
        yield return new Figure($"{id}.landed-difference", $"{name}: difference landed, per pair", Difference);
        yield return new Figure($"{id}.fob-difference", $"{name}: difference FOB, per pair", FobDifference);
        yield return new Figure($"{id}.duty", $"{name}: duty, per pair", Duty);
        yield return new Figure($"{id}.duty-difference", $"{name}: difference in duty, per pair", DutyDifference);
        if (ForVolume is { } whole)
        {
            yield return new Figure($"{id}.volume-difference", $"{name}: difference landed over the volume", whole);
        }

        if (MassDifference is { } mass)
        {
            yield return new Figure($"{id}.mass-difference", $"{name}: difference in mass of a pair", mass);
        }

        foreach (var even in BreakEvens)
        {
            if (even.Price is { } price)
            {
                yield return new Figure($"{id}.break-even.{even.Line}", $"{name}: price of {even.Material} that lands the same", price);
            }
        }

        foreach (var layer in Trial.Oven?.Layers ?? [])
        {
            if (layer.After is { } margin)
            {
                yield return new Figure($"{id}.oven.{layer.Now.Id}.margin", $"{name}: margin of {layer.Now.Name} to its limit in the oven", margin);
                if (layer.Before is { } was)
                {
                    yield return new Figure($"{id}.oven.{layer.Now.Id}.margin-difference", $"{name}: difference in the margin of {layer.Now.Id} in the oven", margin - was);
                }
            }
        }

        foreach (var touched in Trial.Change.Touches)
        {
            if (Units.TryConvert(touched.After, touched.Before.Unit, out var after))
            {
                yield return new Figure($"{id}.touches.{touched.Id}", $"{name}: difference in {touched.Label}", after - touched.Before);
            }
        }
    }

    /// <summary>Components that are of another material, new or gone, in words.</summary>
    private static ImmutableArray<string> Others(ChangeTrial trial, CostEvidence sheet)
    {
        var (before, after) = (sheet.Lines.ToDictionary(l => l.Id, StringComparer.Ordinal), trial.Sheet.Lines.ToDictionary(l => l.Id, StringComparer.Ordinal));
        return [
            .. after.Values.Where(l => before.TryGetValue(l.Id, out var was) && was.Material != l.Material).Select(l => $"{l.Component}: {l.Material} for {before[l.Id].Material}"),
            .. after.Values.Where(l => !before.ContainsKey(l.Id)).Select(l => $"{l.Component}: {l.Material} is new"),
            .. before.Values.Where(l => !after.ContainsKey(l.Id)).Select(l => $"{l.Component}: {l.Material} is gone")];
    }
}
