using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Lot;

/// <summary>What cannot be right in the evidence of a lot.</summary>
internal static class LotFaults
{
    private static readonly ImmutableArray<Severity> Severities = [Severity.Critical, Severity.Major, Severity.Minor];

    /// <exception cref="FaultsException">Names every fault.</exception>
    public static void Check(LotEvidence evidence, SamplingTables tables)
    {
        Fault[] faults = [.. Aqls(evidence, tables), .. Counts(evidence, tables), .. Qualities(evidence), .. Sizes(evidence), .. Pulled(evidence), .. Tally(evidence)];
        if (faults.Length > 0)
        {
            throw new FaultsException(faults);
        }
    }

    private static IEnumerable<Fault> Aqls(LotEvidence evidence, SamplingTables tables)
    {
        if (evidence.Aql.Stated.IsEmpty)
        {
            yield return new Fault("aql", "is empty", "give an AQL by severity, such as { \"major\": 2.5, \"minor\": 4 }");
        }

        foreach (var (severity, aql) in evidence.Aql.Stated.Where(a => !tables.Has(a.Aql)))
        {
            yield return new Fault($"aql.{EnumWords.Of(severity)}", string.Create(CultureInfo.InvariantCulture, $"is {aql}"), $"use a column of the tables: {string.Join(", ", tables.Aqls.Select(a => a.ToString(CultureInfo.InvariantCulture)))}");
        }

        foreach (var (severity, aql) in evidence.Aql.Stated.Where(a => tables.Has(a.Aql) && CountsPairsAlone(evidence, a.Severity, a.Aql)))
        {
            var name = EnumWords.Of(severity);
            yield return new Fault(
                $"aql.{name}",
                string.Create(CultureInfo.InvariantCulture, $"is {aql}: above 10 it counts defects per 100 pairs, and found counts pairs"),
                $"use an AQL up to 10 for defective pairs, or give defects.{name}, all defects of the sample, several to a pair");
        }
    }

    /// <summary>ISO 2859-1 and MIL-STD-105E allow AQLs above 10 for defects per hundred units alone.</summary>
    private static bool CountsPairsAlone(LotEvidence evidence, Severity severity, double aql) =>
        aql > SeverityPlan.MostPercentDefective && evidence.Found?.Of(severity) is not null && evidence.Defects?.Of(severity) is null;

    /// <summary>Defective pairs are some of the pairs that were looked at; defects, several to a pair, may be more.</summary>
    private static IEnumerable<Fault> Counts(LotEvidence evidence, SamplingTables tables)
    {
        if (evidence.Inspected > evidence.LotSize)
        {
            yield return new Fault("inspected", string.Create(CultureInfo.InvariantCulture, $"is {evidence.Inspected} pairs looked at, and the lot has {evidence.LotSize}"), "give at most the pairs of the lot");
        }

        if (evidence.Found is not { } found)
        {
            yield break;
        }

        var ofDefects = evidence.Aql.Stated.Where(a => CountsPairsAlone(evidence, a.Severity, a.Aql)).Select(a => a.Severity).ToHashSet();
        var pairs = Severities.Where(s => !ofDefects.Contains(s)).Select(s => (Severity: s, Count: found.Of(s) ?? 0)).ToImmutableArray();
        var lookedAt = evidence.Inspected ?? Sample(evidence, tables);
        var right = string.Create(CultureInfo.InvariantCulture, $"give at most the {lookedAt} pairs that were looked at");
        var tooMany = pairs.Where(p => p.Count > lookedAt).ToImmutableArray();
        foreach (var (severity, count) in tooMany)
        {
            yield return new Fault($"found.{EnumWords.Of(severity)}", string.Create(CultureInfo.InvariantCulture, $"is {count}"), right);
        }

        if (tooMany.IsEmpty && pairs.Sum(p => (long)p.Count) is var all && all > lookedAt)
        {
            yield return new Fault("found", string.Create(CultureInfo.InvariantCulture, $"adds up to {all} defective pairs"), $"{right}; a pair counts once, by its gravest defect");
        }
    }

    /// <summary>The largest sample of the plans; the whole lot while an AQL has none.</summary>
    private static int Sample(LotEvidence evidence, SamplingTables tables)
    {
        var stated = evidence.Aql.Stated;
        return stated.IsEmpty || stated.Any(a => !tables.Has(a.Aql))
            ? evidence.LotSize
            : SeverityPlan.All(evidence, tables, evidence.Inspection ?? Switching.Of(evidence, tables).Next).Max(p => p.SampleSize);
    }

    private static IEnumerable<Fault> Qualities(LotEvidence evidence)
    {
        var countsDefects = evidence.Aql.Stated.IsEmpty || evidence.Aql.Stated.Any(a => a.Aql > SeverityPlan.MostPercentDefective);
        var named = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (quality, i) in evidence.QualityPct.Select((q, i) => (q, i)))
        {
            var where = string.Create(CultureInfo.InvariantCulture, $"qualityPct[{i}]");
            if (!(quality >= 0 && quality <= 1000))
            {
                yield return new Fault(where, string.Create(CultureInfo.InvariantCulture, $"is {quality}"), "give a number from 0 to 1000");
            }
            else if (quality > 100 && !countsDefects)
            {
                yield return new Fault(where, $"is {LotExamination.At(quality)} % defective pairs", "give a number from 0 to 100; an AQL above 10 counts defects per 100 pairs, of which there may be more");
            }
            else if (!named.Add(LotExamination.At(quality)))
            {
                yield return new Fault(where, $"is {LotExamination.At(quality)}, which stands already", "give each quality once");
            }
        }
    }

    private static IEnumerable<Fault> Sizes(LotEvidence evidence)
    {
        var sizes = evidence.Pull?.Sizes ?? ImmutableDictionary<string, int>.Empty;
        foreach (var (size, pairs) in sizes.Where(s => s.Value < 1).OrderBy(s => s.Key, StringComparer.Ordinal))
        {
            yield return new Fault($"pull.sizes['{size}']", string.Create(CultureInfo.InvariantCulture, $"is {pairs}"), "give the pairs of that size, from 1");
        }

        if (sizes.Values.Sum(n => (long)n) is var all && all > evidence.LotSize)
        {
            yield return new Fault("pull.sizes", string.Create(CultureInfo.InvariantCulture, $"adds up to {all} pairs"), "give at most the pairs of the lot");
        }
    }

    private static IEnumerable<Fault> Pulled(LotEvidence evidence)
    {
        if (evidence.Pull is { Seed: < 0 and var seed })
        {
            yield return new Fault("pull.seed", string.Create(CultureInfo.InvariantCulture, $"is {seed}"), "give a whole number from 0");
        }

        if (evidence.Pull is { Cartons: var cartons } && cartons > evidence.LotSize)
        {
            yield return new Fault("pull.cartons", string.Create(CultureInfo.InvariantCulture, $"is {cartons}, and the lot has {evidence.LotSize} pairs"), "give at most one carton for each pair of the lot");
        }
    }

    /// <summary>A pair that is counted as looked at and of which nothing is said.</summary>
    private static IEnumerable<Fault> Tally(LotEvidence evidence) => evidence.Tallied
        .Select((pair, i) => (pair, i))
        .Where(p => p.pair.SaysNothing)
        .Select(p => new Fault(
            string.Create(CultureInfo.InvariantCulture, $"tallied[{p.i}]"),
            string.Create(CultureInfo.InvariantCulture, $"pair {p.i + 1} of the tally has no carton, no size and nothing found"),
            "give its carton or size where it was looked at and is sound, else take it off"));
}
