using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Change;

/// <summary>The comparison in rows and in sentences.</summary>
internal static class ChangeTables
{
    public static IEnumerable<Table> Of(ChangeEvidence evidence, PastOutcomes before, ImmutableArray<PastOutcomes> between, PastOutcomes after, ImmutableArray<Difference> differences)
    {
        var rows = Rows(before, after).ToImmutableArray();
        var findings = Findings(before, between, after).ToImmutableArray();
        IEnumerable<Table> tables =
        [
            Follows(differences, rows, findings),
            Changes(before, after, differences),
            Texts("facts", "Style, build and pair", ["what", "before", "after"], Facts(evidence)),
            Texts("rows", "Tables of the two reviews where they differ", ["table", "row", "before", "after"], rows.Select(r => (ImmutableArray<string>)[$"{r.Outcome}: {r.Table}", r.Key, r.Before, r.After])),
            Texts("findings", "Findings", ["state", "severity", "component", "words"], findings.Select(f => (ImmutableArray<string>)[f.State, f.Severity, f.Component, f.Words])),
            InARow(before, between, after, differences),
        ];
        return tables.Where(t => !t.Rows.IsEmpty);
    }

    private static Table Changes(PastOutcomes before, PastOutcomes after, ImmutableArray<Difference> differences) => new(
        "changes",
        "Every figure that both reviews have",
        [new Column("address", "address"), new Column("label", "figure"), new Column("before", before.Label), new Column("after", after.Label), new Column("difference", "difference"), new Column("tolerance", "tolerance"), new Column("says", "says")],
        [.. differences.Select(d => ImmutableArray.Create<Cell>(
            d.After.Address.ToString(),
            d.After.Label,
            d.Before.Measured,
            d.After.Measured,
            d.Of,
            d.Tolerance is { } t ? Measured.Exact(t, d.Of.Unit) : new Cell.Empty(),
            Difference.Words(d.Word)))]);

    /// <summary>All builds of a figure beside each other; only where there are more than two.</summary>
    private static Table InARow(PastOutcomes before, ImmutableArray<PastOutcomes> between, PastOutcomes after, ImmutableArray<Difference> differences)
    {
        ImmutableArray<PastOutcomes> all = [before, .. between, after];
        var columns = all.Select((r, i) => new Column(string.Create(CultureInfo.InvariantCulture, $"build-{i + 1}"), r.Label));
        var rows = differences.Select(d => (ImmutableArray<Cell>)
            [
                (Cell)d.After.Address.ToString(),
                .. all.Select(r => r.Figures.FirstOrDefault(f => f.Address == d.After.Address) is { } f ? (Cell)f.Measured : new Cell.Empty()),
            ]);
        return new Table("builds", "The builds in a row", [new Column("address", "figure"), .. columns], between.IsEmpty ? [] : [.. rows]);
    }

    /// <summary>What follows, in plain sentences: what was found or put right first, then what became of answers and figures, by examination, then what cannot be told.</summary>
    private static Table Follows(ImmutableArray<Difference> differences, ImmutableArray<RowChange> rows, ImmutableArray<FindingChange> findings)
    {
        var sentences = new List<string>();
        sentences.AddRange(findings.Where(f => f.State != FindingChange.StillThere).Select(f => $"Finding {f.State}: {f.Words}."));
        sentences.AddRange(rows.GroupBy(r => (r.Outcome, r.Table))
            .Select(g => (Rows: g, Examination: Examination.Named(g.Key.Outcome.Examination)))
            .Where(g => g.Examination?.AnswerTable == g.Rows.Key.Table)
            .Select(g => $"{g.Examination!.Title}: the {g.Examination.AnswerTable} were {Keys(g.Rows, r => r.Before.Length > 0)}; they are {Keys(g.Rows, r => r.After.Length > 0)}."));
        foreach (var group in differences.Where(d => d is { Word: ChangeWord.Changed, IsTrifle: false }).GroupBy(d => d.After.Address.Entry.Examination))
        {
            sentences.AddRange(group.Select(d => $"{Examination.TitleOf(group.Key)}: {Lower(d.After.Label)}{Entry(d)} {(d.Of.Value > 0 ? "rose" : "fell")} from {Display.InTable(d.Before.Measured)} to {Display.InTable(d.After.Measured)}, by {Display.OfDifference(Positive(d.Of))}."));
        }

        if (differences.Where(d => d.IsTrifle && d.Word is ChangeWord.Changed).Select(d => d.After.Label).Distinct(StringComparer.Ordinal).ToImmutableArray() is { Length: > 0 } trifles)
        {
            sentences.Add($"A little different, by less than 1 %: {string.Join("; ", trifles)}.");
        }

        var open = differences.Count(d => d.Word is ChangeWord.CannotTell);
        if (open > 0)
        {
            sentences.Add(string.Create(CultureInfo.InvariantCulture, $"Of {differences.Length} figures, {open} cannot be told apart or called the same: measure them again with less uncertainty, or state a tolerance."));
        }

        return Texts("follows", "What follows", ["words"], sentences.Select(s => (ImmutableArray<string>)[s]));
    }

    private static string Keys(IEnumerable<RowChange> rows, Func<RowChange, bool> has) =>
        rows.Where(has).Select(r => r.Key).ToImmutableArray() is { Length: > 0 } keys ? string.Join(", ", keys) : "others of the same";

    private static IEnumerable<ImmutableArray<string>> Facts(ChangeEvidence evidence)
    {
        (string What, Func<ReviewOutcomes, string?> Of)[] facts =
        [
            ("style", r => r.Style?.Name),
            ("construction", r => r.Style?.Construction),
            ("category", r => r.Style?.Category),
            ("factory", r => r.Build?.Factory),
            ("colourway", r => r.Build?.Colourway),
            ("date", r => r.Build?.Date is { } date ? Display.Day(date) : null),
            ("size", r => r.Pair?.Size),
            ("origin", r => r.Pair?.Origin),
        ];
        return facts.Select(f => (ImmutableArray<string>)[f.What, f.Of(evidence.Before) ?? "", f.Of(evidence.After) ?? ""]).Where(r => r[1] != r[2]);
    }

    private static IEnumerable<RowChange> Rows(PastOutcomes before, PastOutcomes after)
    {
        foreach (var table in before.Rows.Concat(after.Rows).Select(r => (r.Outcome, r.Table)).Distinct())
        {
            var (old, now) = (ByKey(before, table), ByKey(after, table));
            if (old.IsEmpty || now.IsEmpty)
            {
                continue;
            }

            foreach (var key in old.Keys.Union(now.Keys).Order(StringComparer.Ordinal))
            {
                var (was, @is) = (old.GetValueOrDefault(key), now.GetValueOrDefault(key));
                if (was != @is)
                {
                    yield return new RowChange(table.Outcome, table.Table, key, Said(was), Said(@is));
                }
            }
        }
    }

    private static string Said(string? words) => words switch { null => "", "" => "stands", _ => words };

    private static ImmutableSortedDictionary<string, string> ByKey(PastOutcomes review, (EntryAddress Outcome, string Table) table) => review.Rows.Where(r => (r.Outcome, r.Table) == table)
        .GroupBy(r => r.Key, StringComparer.Ordinal)
        .ToImmutableSortedDictionary(g => g.Key, g => string.Join(" | ", g.Select(r => r.Words)), StringComparer.Ordinal);

    private static IEnumerable<FindingChange> Findings(PastOutcomes before, ImmutableArray<PastOutcomes> between, PastOutcomes after)
    {
        var old = before.Findings.ToLookup(f => f.Complaint, StringComparer.Ordinal);
        var found = after.Findings.Select(f => (Finding: f, From: CarriedFindings.FoundAs(f, before, between))).ToImmutableArray();
        var carried = found.Select(f => f.From?.Address).OfType<FullAddress>().ToHashSet();
        var anew = found.Where(f => f.From is null).Select(f => f.Finding.Complaint).ToHashSet(StringComparer.Ordinal);
        foreach (var (finding, from) in found)
        {
            var was = from ?? old[finding.Complaint].FirstOrDefault();
            var state = was is null ? FindingChange.New
                : was.Severity < finding.Severity ? FindingChange.Worse
                : was.Severity > finding.Severity ? FindingChange.Milder
                : FindingChange.StillThere;
            yield return Row(state, finding);
        }

        foreach (var finding in before.Findings.Where(f => !carried.Contains(f.Address) && !anew.Contains(f.Complaint)))
        {
            yield return Row(FindingChange.Gone, finding);
        }
    }

    private static FindingChange Row(string state, PastFinding finding) => new(state, EnumWords.Of(finding.Severity), finding.Component, finding.Words.TrimEnd('.'));

    private static Table Texts(string id, string label, ImmutableArray<string> columns, IEnumerable<ImmutableArray<string>> rows) =>
        new(id, label, [.. columns.Select(c => new Column(c, c))], [.. rows.Select(r => r.Select(t => (Cell)t).ToImmutableArray())]);

    private static string Entry(Difference difference) => difference.After.Address.Entry.Name is { Length: > 0 } name ? $", {name}," : "";

    private static string Lower(string label) => label.Length > 1 && char.IsLower(label[1]) ? char.ToLowerInvariant(label[0]) + label[1..] : label;

    private static Measured Positive(Measured difference) => difference.Value < 0 ? -1 * difference : difference;

    private sealed record RowChange(EntryAddress Outcome, string Table, string Key, string Before, string After);

    private sealed record FindingChange(string State, string Severity, string Component, string Words)
    {
        public const string New = "new";
        public const string Gone = "no longer there";
        public const string Worse = "worse";
        public const string Milder = "milder";
        public const string StillThere = "still there";
    }
}
