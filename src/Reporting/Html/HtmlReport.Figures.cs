using System.Collections.Immutable;
using Pairbench.Footwear;
using Pairbench.Measuring;
using Pairbench.Reporting.Bars;

namespace Pairbench.Reporting.Html;

/// <content>Tables of figures with their limit bars.</content>
public static partial class HtmlReport
{
    private static void Write(MarkupWriter html, Block.Figures figures, HashSet<string> anchors)
    {
        var rows = new FigureRows(
            figures.Items.Max(f => Fraction(Shown.Of(Display.Rounded(f.Figure.Measured)).Value).Length),
            figures.Items.Any(f => f.Figure.Limit is not null),
            IsOfOthers(figures),
            anchors);
        Table(
            html,
            "figures",
            [("Figure", false), ("Value", true), ("± U (95 %)", false), (rows.AreRuled ? "Interval and limit" : "Interval", false), .. rows.AreRuled ? [("Ruling", false)] : ImmutableArray<(string, bool)>.Empty],
            figures.Items,
            item => Row(html, item, rows));
    }

    private static void Row(MarkupWriter html, ReportFigure item, FigureRows rows)
    {
        var shown = Shown.Of(Display.Rounded(item.Figure.Measured));
        using (html.In("tr", ("id", rows.AreOfOthers ? null : item.Anchor)))
        {
            Name(html, item, rows);
            Value(html, shown.Value, rows.Decimals);
            Uncertainty(html, item, shown, rows.Anchors);
            using (html.In("td", ("class", "bar")))
            {
                if (LimitBarSvg.IsWorthDrawing(item.Figure))
                {
                    html.Raw(LimitBarSvg.Of(item.Figure, BarSize.Row with { RowHeight = 18, Scale = BarScale.Numbered }));
                }
            }

            if (rows.AreRuled)
            {
                Ruling(html, item.Figure, rows);
            }
        }
    }

    private static void Name(MarkupWriter html, ReportFigure item, FigureRows rows)
    {
        using (html.In("th", ("scope", "row")))
        {
            if (rows.AreOfOthers)
            {
                Link(html, item.Figure.Label, item.Anchor, rows.Anchors);
                html.Element("small", item.Context);
            }
            else
            {
                html.Text(item.Figure.Label);
            }
        }
    }

    private static void Value(MarkupWriter html, string value, int decimals)
    {
        using (html.In("td", ("class", "number")))
        {
            html.Text(value);
            var fraction = Fraction(value).Length;
            if (decimals > fraction)
            {
                html.Element("span", fraction == 0 ? "." + new string('0', decimals - 1) : new string('0', decimals - fraction), ("class", "pad"), ("aria-hidden", "true"));
            }
        }
    }

    private static void Uncertainty(MarkupWriter html, ReportFigure item, Shown shown, HashSet<string> anchors)
    {
        using (html.In("td", ("class", "unit")))
        {
            if (shown.Uncertainty.Length > 0)
            {
                Link(html, $"± {shown.Uncertainty}", BudgetAnchor(item), anchors);
            }
            else if (shown.Interval.Length > 0)
            {
                Link(html, $"({shown.Interval})", BudgetAnchor(item), anchors);
            }

            if ((shown.Power + shown.Unit).Length > 0)
            {
                html.Element("span", $" {shown.Power} {shown.Unit}".Replace("  ", " ", StringComparison.Ordinal), ("class", "u"));
            }
        }
    }

    private static void Ruling(MarkupWriter html, Figure figure, FigureRows rows)
    {
        using (html.In("td", ("class", "says")))
        {
            if (figure is not { Limit: { } limit, Ruling: { } ruling, Conformance: { } conformance })
            {
                return;
            }

            html.Raw(LimitBarSvg.Word(ruling));
            html.Element("small", $"{Shown.Of(limit, figure.Measured.Unit)} · {EnumWords.Of(limit.Severity)}");
            if (figure.WorstPiece.Length > 0)
            {
                html.Element("small", figure.WorstPiece);
            }

            html.Element("small", $"in the limit: {Shown.Probability(conformance)}");
            if (limit.Source.Length > 0 && !rows.AreOfOthers)
            {
                html.Element("small", limit.Source);
            }
        }
    }

    /// <summary>Whether it lists figures of other sections, with where they stand.</summary>
    private static bool IsOfOthers(Block.Figures figures) => figures.Items.Any(f => f.Context.Length > 0);

    private static string Fraction(string value) => value.IndexOf('.', StringComparison.Ordinal) is >= 0 and var at ? value[at..] : "";

    /// <summary>What the rows of one table of figures have in common.</summary>
    /// <param name="Decimals">Characters from the point on, of the value that has most: shorter ones are filled up, so that the points stand below each other.</param>
    /// <param name="AreRuled">Whether any has a limit.</param>
    /// <param name="AreOfOthers">Whether they stand in other sections, which they link to.</param>
    /// <param name="Anchors">Places of this report that can be linked to.</param>
    private sealed record FigureRows(int Decimals, bool AreRuled, bool AreOfOthers, HashSet<string> Anchors);
}
