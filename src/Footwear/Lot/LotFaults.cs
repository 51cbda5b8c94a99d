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
        Fault[] faults = [.. Aqls(evidence, tables), .. Counts(evidence, tables), .. Qualities(evidence), .. Sizes(evidence)];
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
            yield return new Fault($"aql.{SeverityPlan.Of(severity)}", string.Create(CultureInfo.InvariantCulture, $"is {aql}"), $"use a column of the tables: {string.Join(", ", tables.Aqls.Select(a => a.ToString(CultureInfo.InvariantCulture)))}");
        }
    }

    /// <summary>Defective pairs are some of the pairs that were looked at; defects, several to a pair, may be more.</summary>
    private static IEnumerable<Fault> Counts(LotEvidence evidence, SamplingTables tables)
    {
        if (evidence.Found is not { } found)
        {
            yield break;
        }

        var ofDefects = evidence.Aql.Stated.Where(a => a.Aql > SeverityPlan.MostPercentDefective).Select(a => a.Severity).ToHashSet();
        var pairs = Severities.Where(s => !ofDefects.Contains(s)).Select(s => (Severity: s, Count: found.Of(s) ?? 0)).ToImmutableArray();
        var lookedAt = Math.Min(evidence.LotSize, evidence.Inspected ?? Sample(evidence, tables));
        var right = string.Create(CultureInfo.InvariantCulture, $"give at most the {lookedAt} pairs that were looked at");
        var tooMany = pairs.Where(p => p.Count > lookedAt).ToImmutableArray();
        foreach (var (severity, count) in tooMany)
        {
            yield return new Fault($"found.{SeverityPlan.Of(severity)}", string.Create(CultureInfo.InvariantCulture, $"is {count}"), right);
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
        var named = new HashSet<string>(StringComparer.Ordinal);
        foreach (var (quality, i) in (evidence.QualityPct.IsDefault ? [] : evidence.QualityPct).Select((q, i) => (q, i)))
        {
            var where = string.Create(CultureInfo.InvariantCulture, $"qualityPct[{i}]");
            if (!(quality >= 0 && quality <= 1000))
            {
                yield return new Fault(where, string.Create(CultureInfo.InvariantCulture, $"is {quality}"), "give a percentage from 0");
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
}
