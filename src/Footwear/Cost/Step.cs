using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>A step of the standing column, from materials up to retail.</summary>
/// <param name="IsTotal">A sum of what stands below it.</param>
internal sealed record Step(string Id, string Label, bool IsTotal, Func<Steps<decimal>, decimal> Decimal, Func<Steps<double>, double> Double)
{
    /// <summary>Steps other than totals up to FOB, and up to landed.</summary>
    private const int MakingSteps = 5;

    private const int LandingSteps = 9;

    public static ImmutableArray<Step> All { get; } =
    [
        new("materials", "Materials", false, s => s.Materials, s => s.Materials),
        new("labour", "Labour", false, s => s.Labour, s => s.Labour),
        new("overhead", "Overhead", false, s => s.Overhead, s => s.Overhead),
        new("moulds", "Moulds", false, s => s.Moulds, s => s.Moulds),
        new("factory-margin", "Factory margin", false, s => s.FactoryMargin, s => s.FactoryMargin),
        new("fob", "FOB", true, s => s.Fob, s => s.Fob),
        new("freight", "Freight", false, s => s.Freight, s => s.Freight),
        new("insurance", "Insurance", false, s => s.Insurance, s => s.Insurance),
        new("duty", "Duty", false, s => s.Duty, s => s.Duty),
        new("fees", "Fees", false, s => s.Fees, s => s.Fees),
        new("landed", "Landed", true, s => s.Landed, s => s.Landed),
        new("importer-margin", "Importer's margin", false, s => s.ImporterMargin, s => s.ImporterMargin),
        new("wholesale", "Wholesale", true, s => s.Wholesale, s => s.Wholesale),
        new("retail-margin", "Retail margin", false, s => s.RetailMargin, s => s.RetailMargin),
        new("retail", "Retail", true, s => s.Retail, s => s.Retail),
    ];

    public Measured Of(CostModel model, CostFigures figures)
    {
        var steps = figures.Steps(model);
        return figures.OfStep(model, Id, IsTotal ? Rounded(steps, figures.CurrencyDecimals)[Id] : Decimal(steps), Double);
    }

    /// <summary>The steps in whole cents that add up: FOB, landed, wholesale and retail are rounded, the parts of each are apportioned.</summary>
    public static ImmutableDictionary<string, decimal> Rounded(Steps<decimal> steps, int decimals)
    {
        var shown = ImmutableDictionary.CreateBuilder<string, decimal>(StringComparer.Ordinal);
        var (fob, landed) = (Money.Round(steps.Fob, decimals), Money.Round(steps.Landed, decimals));
        var parts = All.Where(s => !s.IsTotal).ToImmutableArray();
        Put(parts[..MakingSteps], fob);
        Put(parts[MakingSteps..LandingSteps], landed - fob);
        (shown["fob"], shown["landed"]) = (fob, landed);
        shown["wholesale"] = Money.Round(steps.Wholesale, decimals);
        shown["importer-margin"] = shown["wholesale"] - landed;
        shown["retail"] = Money.Round(steps.Retail, decimals);
        shown["retail-margin"] = shown["retail"] - shown["wholesale"];
        return shown.ToImmutable();

        void Put(ImmutableArray<Step> group, decimal total)
        {
            foreach (var (step, cents) in group.Zip(Money.Apportion([.. group.Select(p => p.Decimal(steps))], total, decimals)))
            {
                shown[step.Id] = cents;
            }
        }
    }
}
