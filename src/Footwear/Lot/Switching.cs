using System.Collections.Immutable;
using System.Globalization;

namespace Pairbench.Footwear.Lot;

/// <summary>Where a history of lots leads.</summary>
/// <param name="Next">Inspection of the next lot.</param>
/// <param name="Discontinued">Five lots were not accepted on tightened inspection: acceptance stops until the factory has put things right (4.8).</param>
/// <param name="Steps">What happened, a sentence each.</param>
internal sealed record Switched(Inspection Next, bool Discontinued, ImmutableArray<string> Steps);

/// <summary>The switching rules of MIL-STD-105E, 4.7 and 4.8.</summary>
internal static class Switching
{
    private const int Window = 5;
    private const int ForReduced = 10;

    /// <summary>Where the history of a lot leads; limit numbers are those of its strictest AQL.</summary>
    internal static Switched Of(LotEvidence evidence, SamplingTables tables)
    {
        var strictest = evidence.Aql.Stated.Min(a => a.Aql);
        return Of(evidence.History, evidence.SteadyProduction, sampled => tables.LimitNumber(sampled, strictest));
    }

    /// <summary>Where a history of lots leads.</summary>
    /// <param name="history">Earlier lots in order of time; the first was on normal inspection.</param>
    /// <param name="mayReduce">Whether production is steady and reduced inspection is wanted.</param>
    /// <param name="limitNumber">Of table VIII for a number of pairs sampled in ten lots; null where it cannot be applied.</param>
    public static Switched Of(ImmutableArray<EarlierLot> history, bool mayReduce, Func<int, int?> limitNumber)
    {
        ArgumentNullException.ThrowIfNull(limitNumber);
        var inspection = Inspection.Normal;
        var since = new List<EarlierLot>();
        var refusedOnTightened = 0;
        var steps = ImmutableArray.CreateBuilder<string>();
        void Go(int lot, Inspection to, string why)
        {
            steps.Add(string.Create(CultureInfo.InvariantCulture, $"After lot {lot}: {EnumWords.Of(to)}, since {why}."));
            inspection = to;
            since.Clear();
        }

        for (var i = 0; i < history.Length; i++)
        {
            var lot = history[i];
            since.Add(lot);
            switch (inspection)
            {
                case Inspection.Normal when since.TakeLast(Window).Count(l => !l.Accepted) >= 2:
                    refusedOnTightened = 0;
                    Go(i + 1, Inspection.Tightened, "2 of at most 5 consecutive lots were not accepted");
                    break;
                case Inspection.Normal when mayReduce && since.Count >= ForReduced && since.TakeLast(ForReduced).All(l => l.Accepted) && WithinLimit(since, limitNumber):
                    Go(i + 1, Inspection.Reduced, "10 consecutive lots were accepted, their defectives lie within the limit number, and production is steady");
                    break;
                case Inspection.Tightened:
                    refusedOnTightened += lot.Accepted ? 0 : 1;
                    if (refusedOnTightened >= Window)
                    {
                        steps.Add(string.Create(CultureInfo.InvariantCulture, $"After lot {i + 1}: acceptance is discontinued, since 5 lots were not accepted on tightened inspection."));
                        return new Switched(Inspection.Tightened, true, steps.ToImmutable());
                    }

                    if (since.Count >= Window && since.TakeLast(Window).All(l => l.Accepted))
                    {
                        Go(i + 1, Inspection.Normal, "5 consecutive lots were accepted");
                    }

                    break;
                case Inspection.Reduced when !lot.Accepted || lot.InGap || !mayReduce:
                    Go(i + 1, Inspection.Normal, !lot.Accepted ? "a lot was not accepted on reduced inspection" : lot.InGap ? "a lot was accepted in the gap between the numbers" : "production is not stated to be steady");
                    break;
            }
        }

        return new Switched(inspection, false, steps.ToImmutable());
    }

    private static bool WithinLimit(List<EarlierLot> since, Func<int, int?> limitNumber)
    {
        var last = since.TakeLast(ForReduced).ToList();
        return last.All(l => l is { Sampled: not null, Found: not null })
            && limitNumber(last.Sum(l => l.Sampled!.Value)) is { } limit
            && last.Sum(l => l.Found!.Value) <= limit;
    }
}
