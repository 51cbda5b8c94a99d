using System.Collections.Immutable;
using Pairbench.Footwear.Change;
using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>One thing wrong with a pair: a finding, or a figure outside its limit on which no finding rests. The factory's sheet lists these, and a lot counts them.</summary>
/// <param name="Address">Of the finding or of the figure.</param>
public abstract record WrongThing(FullAddress Address, Severity Severity)
{
    /// <summary>A finding.</summary>
    /// <param name="Figure">The figure that it rests on; null where it rests on none.</param>
    public sealed record Found(FullAddress Address, Severity Severity, FullAddress? Figure) : WrongThing(Address, Severity);

    /// <summary>A figure outside its limit that no finding speaks of, as grave as the limit.</summary>
    public sealed record Outside(FullAddress Address, Severity Severity) : WrongThing(Address, Severity);

    /// <summary>What is wrong with a pair that was just examined: findings first, each in the order of the outcomes.</summary>
    public static ImmutableArray<WrongThing> Of(Examined examined)
    {
        ArgumentNullException.ThrowIfNull(examined);
        return Of(
            examined.Outcomes.SelectMany(o => o.Findings.Select(f => new Found(o.Address.Of(f.Id), f.Severity, f.Figure))),
            examined.Outcomes.SelectMany(o => o.Figures.Select(f => (o.Address.Of(f.Id), f.Ruling, f.Limit))));
    }

    /// <summary>The same of a pair whose outcomes were read back.</summary>
    public static ImmutableArray<WrongThing> Of(PastOutcomes past)
    {
        ArgumentNullException.ThrowIfNull(past);
        return Of(past.Findings.Select(f => new Found(f.Address, f.Severity, f.Figure)), past.Figures.Select(f => (f.Address, f.Ruling, f.Limit)));
    }

    private static ImmutableArray<WrongThing> Of(IEnumerable<Found> findings, IEnumerable<(FullAddress Address, Ruling? Ruling, Limit? Limit)> figures)
    {
        ImmutableArray<Found> found = [.. findings];
        var spokenOf = found.Select(f => f.Figure).OfType<FullAddress>().ToHashSet();
        return [.. found, .. figures.Where(f => f is { Ruling: Ruling.Outside, Limit: not null } && !spokenOf.Contains(f.Address)).Select(f => new Outside(f.Address, f.Limit!.Severity))];
    }
}
