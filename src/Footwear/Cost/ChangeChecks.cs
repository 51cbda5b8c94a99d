using System.Collections.Immutable;

namespace Pairbench.Footwear.Cost;

/// <summary>Whether changes name what is there.</summary>
internal static class ChangeChecks
{
    public static void Run(CostEvidence sheet, List<Fault> faults)
    {
        faults.AddRange(Once.Faults(sheet.Changes.Select(c => c.Id), "changes", "give each change an id of its own"));
        foreach (var (change, i) in sheet.Changes.Select((c, i) => (c, i)))
        {
            var where = $"changes[{i}]";
            if (change.Id is CostTables.StepColumn or CostTables.SheetColumn)
            {
                faults.Add(new Fault(where + ".id", $"'{change.Id}' names a column of the steps already", "give another id"));
            }

            var lines = sheet.Lines.Select(l => l.Id).ToHashSet(StringComparer.Ordinal);
            Known(change.Lines.Select(l => l.Id), lines, where + ".lines", "a line of the bill", faults);
            Known(change.Remove, lines, where + ".remove", "a line of the bill", faults);
            Known(change.Labour.Select(l => l.Id), sheet.Labour.Select(l => l.Id), where + ".labour", "a line of labour", faults);
            New(change, lines, where, faults);
            faults.AddRange(Once.Faults(change.Lines.Select(l => l.Id), where + ".lines", "name each line once, with all that is other of it"));
            faults.AddRange(Once.Faults(change.Labour.Select(l => l.Id), where + ".labour", "name each line once, with all that is other of it"));
            faults.AddRange(Once.Faults(change.Touches.Select(t => t.Id), where + ".touches", "give each an id of its own"));
            faults.AddRange(Once.Faults(change.Oven.Select(l => l.Layer), where + ".oven", "name each layer once, with all that is other of it"));
            if (!change.Oven.IsEmpty && sheet.OvenSheet is null)
            {
                faults.Add(new Fault(where + ".oven", "needs the stack of the sheet", "give ovenSheet, such as { \"evidenceOf\": \"oven/main\" }"));
            }

            foreach (var (layer, n) in change.Oven.Select((l, n) => (l, n)).Where(l => l.l is { Material: null, ThicknessMm: null, Fitted: null }))
            {
                faults.Add(new Fault($"{where}.oven[{n}]", $"changes nothing of '{layer.Layer}'", "give a material, a thicknessMm or fitted"));
            }

            Strobel(change, sheet, lines, where, faults);
            Valued(change, where, faults);
            if (change.Origin is { } origin && string.Equals(origin, sheet.DutySheet?.Worksheet.Origin, StringComparison.OrdinalIgnoreCase))
            {
                faults.Add(new Fault(where + ".origin", $"is '{origin}', which the duty worksheet gives already", "name another country, or leave it out"));
            }

            if (change.Facts is not null && (sheet.DutySheet is null || change.ChangesDuty))
            {
                faults.Add(new Fault(where + ".facts", change.ChangesDuty ? "stands beside a typed duty" : "needs the duty worksheet of the sheet", change.ChangesDuty ? "give one of the two" : "give dutySheet, such as { \"evidenceOf\": \"duty/main\" }, in place of duty"));
            }

            Known(change.BreakEven, lines.Except(change.Remove).Except(change.Strobel?.Board ?? []).Concat(change.Add.Select(l => l.Id)).Concat(change.Strobel is { } strobel ? [strobel.Sock.Id] : ImmutableArray<string>.Empty), where + ".breakEven", "a line of the changed bill", faults);
            foreach (var both in change.Lines.Select(l => l.Id).Intersect(change.Remove.Concat(change.Strobel?.Board ?? [])))
            {
                faults.Add(new Fault(where + ".remove", $"takes away '{both}', which lines changes", "do one of the two"));
            }
        }
    }

    /// <summary>Lines that come need ids that no line which stays has.</summary>
    private static void New(CostChange change, IReadOnlySet<string> lines, string where, List<Fault> faults)
    {
        var taken = lines.Except(change.Remove).Except(change.Strobel?.Board ?? []).ToHashSet(StringComparer.Ordinal);
        var added = change.Add.Select((l, i) => (l.Id, Where: $"{where}.add[{i}].id"));
        foreach (var (id, place) in change.Strobel is { } strobel ? added.Append((strobel.Sock.Id, where + ".strobel.sock.id")) : added)
        {
            if (!taken.Add(id))
            {
                faults.Add(new Fault(place, $"is '{id}', which another line of the changed bill has", "give each line an id of its own"));
            }
        }
    }

    private static void Valued(CostChange change, string where, List<Fault> faults)
    {
        const string right = "leave it out: the value follows from the sheet; change prices, or the customsValue of the worksheet";
        if (change.Facts?.ValueUsdPerPair is not null)
        {
            faults.Add(new Fault(where + ".facts.valueUsdPerPair", "states a value", right));
        }

        if (change.Facts?.ValueBracketUsd is not null)
        {
            faults.Add(new Fault(where + ".facts.valueBracketUsd", "states a value", right));
        }
    }

    private static void Strobel(CostChange change, CostEvidence sheet, IReadOnlySet<string> lines, string where, List<Fault> faults)
    {
        if (change.Strobel is not { } strobel)
        {
            return;
        }

        where += ".strobel";
        Known(strobel.Board, lines, where + ".board", "a line of the bill", faults);
        Known(strobel.Lasted.Select(l => l.Line), lines.Except(strobel.Board).Except(change.Remove), where + ".lasted", "a line of the bill that stays", faults);
        if (!strobel.Lasted.IsEmpty && strobel.LessDm2 is null)
        {
            faults.Add(new Fault(where + ".lessDm2", "is missing beside lasted", "give the area that is no longer turned under, a pair, in dm2, such as { \"from\": \"section/forepart/lasting.difference\" }"));
        }

        if (strobel.Lasted.IsEmpty && strobel.LessDm2 is not null)
        {
            faults.Add(new Fault(where + ".lasted", "is missing beside lessDm2", "name the lines of upper and lining that were turned under the board"));
        }

        foreach (var twice in strobel.Lasted.GroupBy(l => l.Line, StringComparer.Ordinal).Where(g => g.Count() > 1))
        {
            faults.Add(new Fault(where + ".lasted", $"names '{twice.Key}' {(twice.Count() == 2 ? "twice" : FormattableString.Invariant($"{twice.Count()} times"))}", "name each line once, with all of the feather edge that it goes round"));
        }

        foreach (var (line, i) in change.Lines.Select((l, i) => (l, i)).Where(l => l.l.NetAreaDm2 is not null && strobel.Lasted.Any(p => p.Line == l.l.Id)))
        {
            faults.Add(new Fault($"{where[..^".strobel".Length]}.lines[{i}].netAreaDm2", $"stands beside '{line.Id}' as a lasted part, whose area the sock lessens", "give the new area here and leave the part out of strobel.lasted, or leave the area to the sock"));
        }

        foreach (var (lasted, i) in strobel.Lasted.Select((l, i) => (l, i)))
        {
            if (sheet.Lines.FirstOrDefault(l => l.Id == lasted.Line) is not { } line)
            {
                continue;
            }

            if (line.NetAreaDm2 is not { } area)
            {
                faults.Add(new Fault($"{where}.lasted[{i}]", $"'{lasted.Line}' has no net area to take from", "give netAreaDm2 in its line of the bill"));
            }
            else if (strobel.LessDm2 is { } less && area.Value <= less.Value * lasted.SharePct / 100)
            {
                faults.Add(new Fault($"{where}.lasted[{i}]", FormattableString.Invariant($"turns under {less.Value * lasted.SharePct / 100:0.##} dm2 of the {area.Value:0.##} dm2 of '{lasted.Line}'"), "give less, or the share of the feather edge that this part goes round"));
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
