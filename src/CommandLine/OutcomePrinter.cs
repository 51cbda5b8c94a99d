using Pairbench.Footwear;
using Pairbench.Measuring;
using Spectre.Console;

namespace Pairbench.CommandLine;

/// <summary>Outcomes and verdicts as a person reads them in a shell.</summary>
internal static class OutcomePrinter
{
    public static void Print(TextWriter writer, Outcome outcome)
    {
        writer.WriteLine();
        writer.WriteLine(outcome.Address.Title);
        if (outcome.Figures.Length > 0)
        {
            var table = new Spectre.Console.Table { Border = TableBorder.Simple };
            table.AddColumns("figure", "value", "limit", "ruling");
            foreach (var figure in outcome.Figures)
            {
                table.AddRow(
                    new Text(figure.Label),
                    new Text(Display.InTable(figure.Measured)).RightJustified(),
                    new Text(figure.Limit is { } limit ? Display.Of(limit, figure.Measured.Unit) : ""),
                    new Text(string.Join(", ", new[] { Words(figure.Ruling), figure.WorstPiece }.Where(w => w.Length > 0))));
            }

            Plain(writer).Write(table);
        }

        Lines(writer, "finding", outcome.Findings.Select(f => $"{EnumWords.Of(f.Severity)}: {f.Words}"));
        Lines(writer, "not seen", outcome.NotSeen.Select(n => n.Words));
        Lines(writer, "heed", outcome.Cautions);
        Lines(writer, "assumed", outcome.Assumptions);
    }

    /// <summary>Tables in full, each under its label.</summary>
    public static void Print(TextWriter writer, IEnumerable<Footwear.Table> tables)
    {
        foreach (var table in tables)
        {
            writer.WriteLine();
            writer.WriteLine(table.Label);
            var grid = new Spectre.Console.Table { Border = TableBorder.Simple };
            grid.AddColumns([.. table.Columns.Select(c => Markup.Escape(c.Label))]);
            foreach (var row in table.Rows)
            {
                grid.AddRow(row.Select(c => new Text(c.InWords())));
            }

            Plain(writer).Write(grid);
        }
    }

    /// <summary>Cautions of the review itself; nothing where there are none.</summary>
    public static void Heed(TextWriter writer, IReadOnlyCollection<string> cautions)
    {
        if (cautions.Count > 0)
        {
            writer.WriteLine();
            writer.WriteLine("The review");
            Lines(writer, "heed", cautions);
        }
    }

    public static void Print(TextWriter writer, Verdict verdict)
    {
        writer.WriteLine();
        writer.WriteLine($"Verdict: {EnumWords.Of(verdict.Word)}");
        Lines(writer, "because", verdict.Because.Select(r => r.Words));
        Lines(writer, "would change it", verdict.WouldChange.Select(r => r.Words));
        Lines(writer, "not seen", verdict.NotSeen.Select(r => r.Words));
    }

    private static string Words(Ruling? ruling) => ruling switch
    {
        Ruling.Within => $"● {EnumWords.Of(Ruling.Within)}",
        Ruling.Outside => $"⊠ {EnumWords.Of(Ruling.Outside)}",
        Ruling.Undecided => $"○ {EnumWords.Of(Ruling.Undecided)}",
        _ => "",
    };

    private static void Lines(TextWriter writer, string name, IEnumerable<string> lines)
    {
        foreach (var line in lines.Distinct(StringComparer.Ordinal))
        {
            writer.WriteLine($"  {name}: {line}");
        }
    }

    private static IAnsiConsole Plain(TextWriter writer)
    {
        var console = AnsiConsole.Create(new AnsiConsoleSettings { Ansi = AnsiSupport.No, ColorSystem = ColorSystemSupport.NoColors, Out = new AnsiConsoleOutput(writer) });
        console.Profile.Width = 110;
        return console;
    }
}
