using System.Collections.Immutable;
using Pairbench.Footwear;
using Pairbench.Measuring;
using static Pairbench.Reporting.Pdf.PdfSheet;
using static Pairbench.Reporting.Pdf.PdfStyles;

namespace Pairbench.Reporting.Pdf;

/// <summary>Facts, budgets and tables of a report on its pages.</summary>
internal sealed class PdfTables(PdfSheet sheet)
{
    private PdfPen Pen => sheet.Pen;

    public void Facts(Block.Facts facts)
    {
        var half = (facts.Items.Length + 1) / 2;
        var column = (Width / 2) - 10;
        const float NameWidth = 88;
        var style = Body with { Size = 8.8f };
        Pen.Tree.Part("Table", () =>
        {
            for (var row = 0; row < half; row++)
            {
                ImmutableArray<(string Name, string Value)> pair = row + half < facts.Items.Length ? [facts.Items[row], facts.Items[row + half]] : [facts.Items[row]];
                var names = pair.Select(p => Pen.Fonts.Wrap(p.Name, NameWidth - 6, style)).ToList();
                var values = pair.Select(p => Pen.Fonts.Wrap(p.Value, column - NameWidth, style)).ToList();
                var lines = Math.Max(names.Max(n => n.Length), values.Max(v => v.Length));
                sheet.Need(Math.Min((lines * style.LineHeight) + 6, Bottom - Top));
                Pen.Tree.Part("TR", () =>
                {
                    for (var line = 0; line < lines; line++)
                    {
                        sheet.Need(style.LineHeight);
                        for (var i = 0; i < pair.Length; i++)
                        {
                            var x = Left + (i * ((Width / 2) + 10));
                            Cell("TD", names[i], line, x, style with { Ink = QuietInk });
                            Cell("TD", values[i], line, x + NameWidth, style);
                        }

                        sheet.Y += style.LineHeight;
                    }
                });
                sheet.Y += 2;
                Pen.Artefact(() =>
                {
                    for (var i = 0; i < pair.Length; i++)
                    {
                        Pen.Line(Left + (i * ((Width / 2) + 10)), sheet.Y, Left + (i * ((Width / 2) + 10)) + column, sheet.Y, Rule, 0.4f);
                    }
                });
                sheet.Y += 3;
            }
        });
        sheet.Y += 3;
    }

    private void Cell(string type, ImmutableArray<string> lines, int line, float x, TextStyle style)
    {
        if (line < lines.Length)
        {
            Pen.Tree.Part(type, () => Pen.Text(lines[line], x, sheet.Y + style.Size, style));
        }
    }

    /// <summary>On paper a figure that is ruled has its budget in full; the others share one table of their largest causes, else half of the pages would be budgets.</summary>
    public void Budgets(Block.Budgets budgets)
    {
        foreach (var item in budgets.Items.Where(i => i.Figure.Limit is not null))
        {
            sheet.Need(70);
            sheet.Y += 5;
            sheet.Lines("H3", $"{item.Context}: {item.Figure.Label}, {Shown.Of(item.Figure.Measured).Text}", Left, Width, Body.Strong with { Size = 8.6f });
            sheet.Lines("P", BudgetText.Summary(item), Left, Width, Small);
            sheet.Y += 2;
            Grid(BudgetText.Columns, [false, false, true, true, true], BudgetText.Rows(item.Figure.Measured), Small with { Ink = Ink });
        }

        var others = budgets.Items.Where(i => i.Figure.Limit is null).Select(BudgetText.InShort).ToImmutableArray();
        if (!others.IsEmpty)
        {
            sheet.Need(90);
            sheet.Y += 5;
            sheet.Lines("H3", "Figures that stand against no limit", Left, Width, Body.Strong with { Size = 8.6f });
            sheet.Lines("P", "Their largest causes, with the share of the variance. Every line of these budgets is in the HTML report and in the JSON.", Left, Width, Small);
            sheet.Y += 2;
            Grid(BudgetText.ShortColumns, [false, true, true, false], others, Small with { Ink = Ink });
        }
    }

    public void Grid(Table table) => Grid(
        [.. table.Columns.Select(c => c.Label)],
        [.. table.Columns.Select((_, i) => table.IsNumeric(i))],
        [.. table.Rows.Select(r => r.Select(c => c.InWords("\n")).ToImmutableArray())],
        Body with { Size = 8.4f });

    /// <summary>A table whose rows may run over pages; the header is repeated.</summary>
    private void Grid(ImmutableArray<string> columns, ImmutableArray<bool> isNumber, ImmutableArray<ImmutableArray<string>> rows, TextStyle style)
    {
        const float Gap = 10;
        var widths = Widths(columns, rows, style, Gap);
        var lefts = widths.Select((_, i) => Left + widths.Take(i).Sum(w => w + Gap)).ToList();
        var heads = columns.Select((c, i) => Pen.Fonts.Wrap(c, widths[i], Small)).ToList();
        void Header()
        {
            var lines = heads.Max(h => h.Length);
            Pen.Tree.Part("TR", () => Row(heads, 0, lines, Small, "TH"));
            sheet.Y += 2;
            Pen.Artefact(() => Pen.Line(Left, sheet.Y, lefts[^1] + widths[^1], sheet.Y, Ink, 0.6f));
            sheet.Y += 3;
        }

        Pen.Tree.Part("Table", () =>
        {
            sheet.Need(48);
            Header();
            sheet.OnNewPage = Header;
            foreach (var row in rows)
            {
                var cells = row.Select((c, i) => Pen.Fonts.Wrap(c, widths[i], style)).ToList();
                var lines = cells.Max(c => c.Length);
                Pen.Tree.Part("TR", () =>
                {
                    sheet.Need(Math.Min((lines * style.LineHeight) + 5, 200));
                    for (var from = 0; from < lines;)
                    {
                        sheet.Need(style.LineHeight + 5);
                        var fit = Math.Min(lines - from, Math.Max(1, (int)((Bottom - sheet.Y - 5) / style.LineHeight)));
                        Row(cells, from, fit, style, "TD");
                        from += fit;
                    }
                });
                sheet.Y += 2;
                Pen.Artefact(() => Pen.Line(Left, sheet.Y, lefts[^1] + widths[^1], sheet.Y, Rule, 0.4f));
                sheet.Y += 3;
            }

            sheet.OnNewPage = null;
        });
        sheet.Y += 5;

        void Row(List<ImmutableArray<string>> cells, int from, int count, TextStyle text, string type)
        {
            for (var i = 0; i < cells.Count; i++)
            {
                Pen.Tree.Part(type, () =>
                {
                    foreach (var (line, at) in cells[i].Skip(from).Take(count).Select((l, at) => (l, at)))
                    {
                        var x = isNumber[i] ? lefts[i] + widths[i] - Pen.Fonts.Width(line, text) : lefts[i];
                        Pen.Text(line, x, sheet.Y + (at * text.LineHeight) + text.Size, text);
                    }
                });
            }

            sheet.Y += count * text.LineHeight;
        }
    }

    /// <summary>Each column as wide as its content where that fits; else what is narrow stays, and what is wide shares the rest.</summary>
    private List<float> Widths(ImmutableArray<string> columns, ImmutableArray<ImmutableArray<string>> rows, TextStyle style, float gap)
    {
        var room = Width - (gap * (columns.Length - 1));
        var natural = columns
            .Select((c, i) => Math.Max(Pen.Fonts.Width(c, Small), rows.SelectMany(r => r[i].Split('\n')).Select(t => Pen.Fonts.Width(PlainText.Of(t), style)).DefaultIfEmpty(0).Max()) + 1)
            .ToList();
        if (natural.Sum() <= room)
        {
            // Some air, but numbers stay near their names.
            var air = Math.Min((room - natural.Sum()) / columns.Length, 46);
            return [.. natural.Select(w => w + air)];
        }

        // What fits an even share has what it needs. The others share the rest by how much text their fullest cell holds, so that rows stay low, and no column breaks
        // a word that fits an even share. Shares and less than shares never add up to more than the room.
        var share = room / columns.Length;
        float Fullest(int i) => rows.Max(r => r[i].Split('\n').Sum(t => Pen.Fonts.Width(PlainText.Of(t), style)));
        float LongestWord(int i) => rows.SelectMany(r => r[i].Split('\n', ' ')).Append(columns[i]).Max(t => Pen.Fonts.Width(PlainText.Of(t), style)) + 1;
        var settled = natural.Select(w => w <= share ? w : (float?)null).ToList();
        var open = Enumerable.Range(0, columns.Length).Where(i => settled[i] is null).Select(i => (Index: i, Need: Fullest(i), Least: Math.Min(share, LongestWord(i)))).ToList();
        while (true)
        {
            var perNeed = (room - settled.Sum(w => w ?? 0)) / open.Sum(c => c.Need);
            var tight = open.Where(c => c.Need * perNeed < c.Least).ToList();
            if (tight.Count == 0)
            {
                open.ForEach(c => settled[c.Index] = c.Need * perNeed);
                return [.. settled.Select(w => w ?? 0)];
            }

            tight.ForEach(c => settled[c.Index] = c.Least);
            open.RemoveAll(tight.Contains);
        }
    }
}
