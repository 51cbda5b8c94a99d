namespace Pairbench.Footwear.Cost;

/// <summary>Whether changes name what is there.</summary>
internal static class ChangeChecks
{
    public static void Run(CostEvidence sheet, List<Fault> faults)
    {
        foreach (var twice in sheet.Changes.GroupBy(c => c.Id).Where(g => g.Count() > 1))
        {
            faults.Add(new Fault("changes", $"'{twice.Key}' stands twice", "give each change an id of its own"));
        }

        foreach (var (change, i) in sheet.Changes.Select((c, i) => (c, i)))
        {
            var where = $"changes[{i}]";
            var lines = sheet.Lines.Select(l => l.Id).ToHashSet(StringComparer.Ordinal);
            Known(change.Lines.Select(l => l.Id), lines, where + ".lines", "a line of the bill", faults);
            Known(change.Remove, lines, where + ".remove", "a line of the bill", faults);
            Known(change.Labour.Select(l => l.Id), sheet.Labour.Select(l => l.Id), where + ".labour", "a line of labour", faults);
            Known(change.BreakEven, lines.Except(change.Remove).Concat(change.Add.Select(l => l.Id)), where + ".breakEven", "a line of the changed bill", faults);
            foreach (var both in change.Lines.Select(l => l.Id).Intersect(change.Remove))
            {
                faults.Add(new Fault(where + ".remove", $"takes away '{both}', which lines changes", "do one of the two"));
            }
        }
    }

    private static void Known(IEnumerable<string> named, IEnumerable<string> known, string where, string what, List<Fault> faults)
    {
        var there = known.ToHashSet(StringComparer.Ordinal);
        foreach (var (id, i) in named.Select((id, i) => (id, i)).Where(n => !there.Contains(n.id)))
        {
            faults.Add(new Fault($"{where}[{i}]", $"names '{id}', which is not {what}", there.Count == 0 ? "there is none to name" : $"name one of {string.Join(", ", there.Order(StringComparer.Ordinal))}"));
        }
    }
}
