using Pairbench.Footwear.Duty;

namespace Pairbench.Footwear.Cost;

/// <summary>What else a change touches, in words, a row each.</summary>
internal static class TouchedWords
{
    private const string Real = "A change for the sake of duty must be real in the goods.";

    public static IEnumerable<(string What, string Words)> Of(TriedChange tried) => [
        .. Materials(tried), .. OvenWords.Of(tried), .. Sock(tried.Trial.Change), .. Country(tried.Trial), .. Duty(tried), .. Mass(tried),
        .. tried.Trial.Change.Touches.Select(t => (t.Id, $"{t.Label}: {Display.Of(t.Before)} before, {Display.Of(t.After)} after."))];

    private static IEnumerable<(string What, string Words)> Materials(TriedChange tried)
    {
        var change = tried.Trial.Change;
        if (tried.OtherMaterials.IsEmpty)
        {
            yield break;
        }

        yield return ("materials", string.Join("; ", tried.OtherMaterials) + ".");
        yield return ("marking", "Another material can make the material marks on shoe, box and label wrong: compare them again.");
        if (!change.ChangesDuty && change.Facts is null)
        {
            yield return ("duty", tried.Trial.Duty is null
                ? $"Another material can move the pair to another duty line; the duty in this change is that of the sheet. {Real}"
                : $"The duty line is found by the facts of the worksheet: where another material changes the upper or the sole, give the change its facts. {Real}");
        }
    }

    private static IEnumerable<(string What, string Words)> Sock(CostChange change)
    {
        if (change.Strobel is not { } strobel)
        {
            yield break;
        }

        yield return ("lasting", strobel.LessDm2 is { } less
            ? $"Without the board {Display.Of(less)} a pair is no longer turned under, of {string.Join(", ", strobel.Lasted.Select(l => l.SharePct == 100 ? l.Line : FormattableString.Invariant($"{l.Line} ({l.SharePct:0.#} %)")))}: cut other patterns."
            : "What is no longer turned under is not in the figures: name the lasted lines and the area.");
        yield return ("construction", "The sock takes the place of the board between sole and last: heat passes it otherwise, and the forepart bends otherwise.");
    }

    private static IEnumerable<(string What, string Words)> Country(ChangeTrial trial)
    {
        if (trial.Change is not { Origin: { } origin } change)
        {
            yield break;
        }

        yield return ("marking", $"The country of origin on shoe, box and carton becomes {origin} (19 U.S.C. 1304 in the U.S., from memory).");
        var typed = Typed(change).ToArray();
        yield return ("origin", typed.Length == 0
            ? $"Freight and labour are those of the sheet: none is typed for {origin}."
            : $"Typed for {origin}: {string.Join(", ", typed)}. The rest of freight, insurance, labour, overhead and margin stays as it is now.");
        if (trial.Duty is not { After: var paid })
        {
            yield return ("extra duties", "Extra duties by origin are not looked up: the duty of this change is typed or that of the sheet.");
            yield break;
        }

        yield return ("extra duties", paid.Extras.IsEmpty
            ? $"No extra duty for goods of {origin} stands in the worksheet for the day of entry: they change often, look them up. Preferences by origin are not in the rates."
            : $"Extra duties for goods of {origin}: {string.Join(", ", paid.Extras.Select(e => $"{e.Name} {Rate(e, paid.Answer.Schedule.Currency)}"))}. They change often, look them up for the day of entry.");
    }

    /// <summary>What of freight, labour and margins the change states.</summary>
    private static IEnumerable<string> Typed(CostChange change) => new (string Words, bool IsTyped)[]
    {
        ("freight", change.Freight is not null || change.FreightPerShipment is not null),
        ("insurance", change.Insurance is not null || change.InsurancePct is not null),
        ("the hourly rate of all work", change.LabourRatePerHour is not null),
    }
    .Concat(change.Labour.SelectMany(l => new[] { ($"minutes of {l.Id}", l.Minutes is not null), ($"hourly rate of {l.Id}", l.RatePerHour is not null) }))
    .Concat([("overhead", change.OverheadPct is not null), ("the factory's margin", change.FactoryMarginPct is not null)])
    .Where(t => t.Item2)
    .Select(t => t.Item1);

    private static string LineMove(PaidDuty before, PaidDuty after)
    {
        var (was, now) = (before.Answer.Found.Lines, after.Answer.Found.Lines);
        return (was.Select(l => l.Code).SequenceEqual(now.Select(l => l.Code)), now.Length) switch
        {
            (true, 1) => $"The duty line stays {after.Lines}",
            (true, > 6) => $"The same {now.Length} duty lines remain possible as before",
            (true, _) => $"The same duty lines remain possible as before: {after.Lines}",
            _ => $"The duty line goes from {One(before)} to {One(after)}",
        };
    }

    private static string One(PaidDuty paid) => paid.Answer.Found.Lines.Length == 1 ? paid.Lines : $"one of {paid.Lines}";

    private static IEnumerable<(string What, string Words)> Duty(TriedChange tried)
    {
        var change = tried.Trial.Change;
        if (tried.Trial.Duty is not { } move)
        {
            if (change.ChangesDuty)
            {
                yield return ("duty", $"The duty of a pair changes by {Display.Of(tried.DutyDifference)}. The line that pays it is for a binding ruling or a licensed customs broker to decide.");
            }

            yield break;
        }

        yield return ("duty", $"{LineMove(move.Before, move.After)}; the duty of a pair {(tried.DutyDifference is { IsExact: true, Value: 0 } ? "stays" : $"changes by {Display.Of(tried.DutyDifference)}")}.{(change.Facts is null ? "" : " " + Real)} A binding ruling or a licensed customs broker decides.");
        if (change.Facts?.OuterSole is not null && DutyWords.Contact(move.After.Answer.Answers) is { Length: > 0 } contact)
        {
            yield return ("sole", contact);
        }

        if (BranchCost.Words(tried.Branches) is { Length: > 0 } open)
        {
            yield return ("duty", open);
        }

        foreach (var note in move.After.Notes.Except(move.Before.Notes))
        {
            yield return ("duty", note);
        }
    }

    private static IEnumerable<(string What, string Words)> Mass(TriedChange tried) => tried.MassDifference is { Value: not 0 } mass
        ? [("mass", $"A pair weighs {Display.Of(Math.Abs(mass.Value) == mass.Value ? mass : -1 * mass)} {(mass.Value > 0 ? "more" : "less")}.")]
        : [];

    private static string Rate(ExtraDuty extra, string currency) => (extra.AdValoremPct, extra.SpecificPerPair) switch
    {
        (var pct, 0) => FormattableString.Invariant($"{pct} %"),
        (0, var each) => FormattableString.Invariant($"{each:0.00} {currency} a pair"),
        var (pct, each) => FormattableString.Invariant($"{pct} % and {each:0.00} {currency} a pair"),
    };
}
