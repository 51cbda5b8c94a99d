using System.Collections.Immutable;

namespace Pairbench.Footwear.Cost;

/// <summary>The lines below the steps: what each costs per pair.</summary>
internal static class CostLines
{
    public static IEnumerable<Figure> Figures(CostModel model, CostFigures figures)
    {
        foreach (var item in model.Materials)
        {
            yield return Of(item, $"{item.Id}.cost", item.Label, figures);
        }

        foreach (var item in model.Labour)
        {
            yield return Of(item, $"labour.{item.Id}.cost", $"Labour, {item.Label}", figures);
        }

        foreach (var item in model.Moulds)
        {
            yield return Of(item, $"moulds.{item.Id}.cost", $"Moulds, {item.Label}", figures);
        }

        foreach (var fee in model.Fees)
        {
            yield return new Figure($"fees.{fee.Id}.cost", $"Fee, {fee.Id}", figures.Amount(model.Of<decimal>(fee, figures.Decimals), x => model.Of(fee, x)));
        }
    }

    public static ImmutableArray<decimal> Amounts(ImmutableArray<Item> items, CostFigures figures) => [.. items.Select(i => i.Term.Of<decimal>(figures.Decimals))];

    private static Figure Of(Item item, string id, string label, CostFigures figures) =>
        new(id, label, figures.Amount(item.Term.Of<decimal>(figures.Decimals), x => item.Term.Of(x)));
}
