using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Trend;

/// <summary>A finding of a build, as a Pareto table counts it.</summary>
public sealed record CountedFinding(TrendBuild Build, string Complaint, Severity Severity);

/// <summary>How often something was found.</summary>
/// <param name="Share">Of all, in %.</param>
/// <param name="Cumulative">Share of this and all more frequent ones, in %.</param>
internal sealed record ParetoRow(string What, int Critical, int Major, int Minor, double Share, double Cumulative)
{
    public int Count => Critical + Major + Minor;
}

/// <summary>Findings counted by one property, the most frequent first; months in their order.</summary>
internal sealed record Pareto(string Id, string Label, ImmutableArray<ParetoRow> Rows)
{
    /// <summary>By complaint, factory, construction and month; a property that no build states is left out.</summary>
    public static ImmutableArray<Pareto> Of(IReadOnlyCollection<CountedFinding> findings) =>
    [.. new[]
        {
            By("findings-by-complaint", "Findings by complaint", findings, f => f.Complaint),
            By("findings-by-factory", "Findings by factory", findings, f => f.Build.Factory),
            By("findings-by-construction", "Findings by construction", findings, f => f.Build.Construction),
            By("findings-by-month", "Findings by month of the build", findings, f => f.Build.Date?.ToString("MMM yyyy", CultureInfo.InvariantCulture) ?? "", byTime: true),
        }.Where(p => p.Rows.Any(r => r.What != Unstated)),
    ];

    private const string Unstated = "not stated";

    private static Pareto By(string id, string label, IReadOnlyCollection<CountedFinding> findings, Func<CountedFinding, string> property, bool byTime = false)
    {
        var groups = findings.GroupBy(f => property(f) is { Length: > 0 } word ? word : Unstated, StringComparer.Ordinal)
            .OrderByDescending(g => byTime ? 0 : g.Count())
            .ThenBy(g => byTime ? g.Min(f => f.Build.Date ?? DateOnly.MaxValue) : DateOnly.MinValue)
            .ThenBy(g => g.Key, StringComparer.Ordinal);
        var rows = ImmutableArray.CreateBuilder<ParetoRow>();
        var sum = 0;
        foreach (var group in groups)
        {
            int Of(Severity severity) => group.Count(f => f.Severity == severity);
            sum += group.Count();
            rows.Add(new ParetoRow(group.Key, Of(Severity.Critical), Of(Severity.Major), Of(Severity.Minor), 100.0 * group.Count() / findings.Count, 100.0 * sum / findings.Count));
        }

        return new Pareto(id, label, rows.ToImmutable());
    }
}
