using System.Collections.Immutable;
using Pairbench.Footwear;
using Pairbench.Footwear.Change;
using Pairbench.Footwear.Trend;
using Pairbench.Measuring;
using Pairbench.Storage;

namespace Pairbench.Bench.Trends;

/// <summary>A figure and the findings of the shelf through the builds.</summary>
/// <param name="Series">Null where no figure is followed or no build has it.</param>
public sealed record ShelfTrend(TrendSeries? Series, Outcome Outcome)
{
    private const string Measuring = "measuring";

    /// <summary>Follows a figure over the shelf.</summary>
    /// <param name="address">Full address of the figure; empty for the findings alone.</param>
    /// <param name="style">Empty for every style.</param>
    /// <param name="factory">Empty for every factory.</param>
    /// <param name="baseline">How many first builds set the limits; all where it is null.</param>
    public static async Task<ShelfTrend> OfAsync(IReviewShelf shelf, string address, string style, string factory, int? baseline, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(shelf);
        var figures = address.Length == 0 ? [] : await shelf.FiguresAsync(new FigureQuery(address, style, factory), cancellation);
        var findings = await shelf.FindingsAsync(new FindingQuery(style, factory), cancellation);
        var limit = figures.IsEmpty ? null : await LimitAsync(shelf, figures[^1].Review.Id, address, cancellation);
        var series = figures.IsEmpty ? null : Follow(figures, limit, baseline);
        return new ShelfTrend(series, TrendExamination.Of(series?.Chart is null ? [] : [series], [.. findings.Select(Counted)]));
    }

    private static TrendSeries Follow(ImmutableArray<ShelfFigure> figures, Limit? limit, int? baseline)
    {
        var latest = figures[^1];
        var values = figures.GroupBy(f => (f.Review.Style, f.Review.Build, f.Review.Factory, f.Review.BuildDate)).SelectMany(g =>
        {
            var first = g.First().Review;
            var build = new TrendBuild(first.Build, first.Factory, first.Construction, first.BuildDate, first.Style, first.Id);
            return g.Select(f => (build, Measured.Of(f.Value, f.Unit, f.StandardUncertainty > 0 ? [new Contribution(Measuring, Evaluation.TypeB, f.StandardUncertainty)] : [])));
        });
        return TrendSeries.OfValues(latest.Address, latest.Label, latest.Unit, [.. values], limit, null, baseline, TrendSeries.UsualRules);
    }

    private static async Task<Limit?> LimitAsync(IReviewShelf shelf, string review, string address, CancellationToken cancellation)
    {
        return await shelf.OutcomesAsync(review, cancellation) is { } noted
            ? PastOutcomes.Kept(noted, review).Figures.FirstOrDefault(f => f.Address.ToString() == address)?.Limit
            : null;
    }

    private static CountedFinding Counted(ShelfFinding finding) => new(
        new TrendBuild(finding.Review.Build, finding.Review.Factory, finding.Review.Construction, finding.Review.BuildDate, finding.Review.Style, finding.Review.Id),
        string.Join(": ", new[] { finding.Component, finding.Words }.Where(w => w.Length > 0)),
        finding.Severity);
}
