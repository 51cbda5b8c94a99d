using System.Collections.Immutable;
using Pairbench.Footwear.Plots;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>The way through the law as a path: each question with the fact that answered it, a fork where one is open, and at the end what each branch pays.</summary>
internal static class WayPlate
{
    private const double Width = 660;
    private const double Spine = 18;
    private const double Row = 50;
    private const int MostEnds = 10;
    private const string Paper = "#ffffff";
    private const string Block = "#e6e1d5";

    public static Plate Of(Classification found, ImmutableArray<MissingFact> missing, Measured? value, Schedule schedule, ImmutableDictionary<string, double>? chances, FactRules rules)
    {
        var sheet = new SvgSheet();
        var open = rules.Facts.Where(r => r.From.Any(f => missing.Any(m => m.Place == f))).Select(r => r.Fact).ToHashSet(StringComparer.Ordinal);
        var asked = found.Lines.SelectMany(l => l.All.Concat(l.None.SelectMany(n => n))).Select(a => a.Fact).ToHashSet(StringComparer.Ordinal);
        var steps = found.Steps.Where(s => open.Contains(s.Fact) ? s.IsOpen : asked.Contains(s.Fact) && !s.IsOpen).OrderBy(s => open.Contains(s.Fact)).ToArray();
        var y = 20.0;
        foreach (var step in steps)
        {
            var forks = open.Contains(step.Fact);
            sheet.Line(Spine, y, Spine, y + Row, SvgSheet.Ink, 1.3, forks ? "4 2" : "");
            sheet.Dot(Spine, y, 4, forks ? Paper : SvgSheet.Ink);
            sheet.Words(Spine + 16, y + 4, step.Question, most: 104);
            sheet.Words(Spine + 16, y + 19, forks ? "open" : step.Answer, strong: true, most: 98);
            sheet.Words(Spine + 16, y + 33, step.Law, SvgSheet.Quiet, most: 104);
            y += Row;
        }

        y = missing is [var first, ..] ? Fork(sheet, y, first, value, schedule, chances) : End(sheet, y, Spine, "", found.Lines, value, schedule, chances);
        var words = found.Lines is [var only] ? $"ends in {only.Code}" : $"forks{(missing is [var asks, ..] ? $": {asks.Words}" : ";")} {found.Lines.Length} lines remain";
        return sheet.Plate("way", $"The way through the law, each question with the fact that answered it and what it rests on; it {words}", Width, y + 12);
    }

    /// <summary>The fork at the fact that narrows most, one branch for each answer.</summary>
    private static double Fork(SvgSheet sheet, double y, MissingFact fact, Measured? value, Schedule schedule, ImmutableDictionary<string, double>? chances)
    {
        sheet.Dot(Spine, y, 5, Paper);
        sheet.Words(Spine + 16, y + 4, fact.Words, strong: true, most: 84);
        var from = y + 5;
        y += 26;
        foreach (var (answer, lines) in fact.Outcomes.Take(MostEnds))
        {
            sheet.Path([(Spine, from), (Spine, y + 8), (Spine + 22, y + 8)]);
            y = End(sheet, y, Spine + 22, "if " + answer, lines, value, schedule, chances);
        }

        if (fact.Outcomes.Length > MostEnds)
        {
            sheet.Words(Spine + 30, y + 12, $"and {fact.Outcomes.Length - MostEnds} more answers", SvgSheet.Quiet);
            y += 20;
        }

        return y;
    }

    private static double End(SvgSheet sheet, double y, double x, string answer, ImmutableArray<ScheduleLine> lines, Measured? value, Schedule schedule, ImmutableDictionary<string, double>? chances)
    {
        var height = answer.Length > 0 ? 40 : 26;
        sheet.Box(x, y - 6, Width - x - 8, height, lines.Length == 1 ? Block : Paper, SvgSheet.Ink);
        var chance = chances is null ? 0 : lines.Sum(l => chances.GetValueOrDefault(l.Code));
        var text = y + 10;
        if (answer.Length > 0)
        {
            sheet.Words(x + 8, text, answer, SvgSheet.Quiet, most: 80);
            sheet.Words(Width - 16, text, chance > 0 ? "probability " + DutyTables.Percent(chance) : "", SvgSheet.Quiet, "end");
            text += 16;
        }

        sheet.Words(x + 8, text, DutyTables.Few(lines), strong: lines.Length == 1, most: 72);
        sheet.Words(Width - 16, text, value is null ? "" : DutyTables.Money(lines, value, schedule.Currency), anchor: "end", strong: true);
        return y + height + 8;
    }
}
