using System.Collections.Immutable;
using Pairbench.Footwear;
using Pairbench.Measuring;
using Pairbench.Reporting.Bars;
using static Pairbench.Reporting.Pdf.PdfStyles;

namespace Pairbench.Reporting.Pdf;

/// <summary>A line of text in a row.</summary>
/// <param name="X">Left end, from the left of the row.</param>
/// <param name="Y">Baseline, from the top of the row.</param>
internal readonly record struct RowText(string Text, float X, float Y, TextStyle Style);

/// <summary>A limit bar in a row.</summary>
/// <param name="Y">Its top, from the top of the row.</param>
internal sealed record RowBar(LimitBarGeometry Bar, float Y);

/// <summary>The ruling of a row: its sign, its word, and below that the limit with what it says.</summary>
/// <param name="SignY">Top of the sign, from the top of the row.</param>
internal sealed record RowRuling(Ruling Ruling, float SignY, RowText Word, ImmutableArray<RowText> Says);

/// <summary>Where what stands in the row of a figure. Lengths are points; nothing is drawn here.</summary>
/// <param name="Name">Label of the figure, and below it what it belongs to where that is not plain.</param>
/// <param name="Uncertainty">Uncertainty or interval, with the unit beside it, or below it where it does not fit.</param>
/// <param name="Bar">Null where none is worth drawing.</param>
/// <param name="Ruling">Null where the figure stands against no limit.</param>
internal sealed record FigureRowLayout(float Height, ImmutableArray<RowText> Name, RowText Value, ImmutableArray<RowText> Uncertainty, RowBar? Bar, RowRuling? Ruling)
{
    public const float NameWidth = 128;

    /// <summary>Where decimal points stand.</summary>
    public const float Point = 166;
    public const float After = 190;
    public const float BarLeft = 258;
    public const float BarWidth = 126;
    public const float Says = 392;

    private static readonly TextStyle UnitStyle = Small with { Size = 7.8f };

    public static FigureRowLayout Of(ReportFigure item, PdfFonts fonts)
    {
        var figure = item.Figure;
        var names = fonts.Wrap(figure.Label, NameWidth, Body);
        var context = item.Context.Length > 0 ? fonts.Wrap(item.Context, NameWidth, Small) : [];
        var bar = LimitBarSvg.IsWorthDrawing(figure) ? LimitBarGeometry.Of(figure, new BarSize(BarWidth, 13, BarScale.Numbered)) : null;
        var says = SaysOf(item, fonts);
        var (nameHeight, saysHeight) = ((names.Length * Body.LineHeight) + (context.Length * Small.LineHeight), Body.LineHeight + (says.Length * Small.LineHeight));
        var height = Math.Max(Math.Max(nameHeight, (float)(bar?.Height ?? 0)), says.IsEmpty ? 0 : saysHeight) + 6;
        var top = (height - nameHeight) / 2;
        var middle = (height / 2) - (Body.LineHeight / 2) + 1;
        var shown = Shown.Of(Display.Rounded(figure.Measured));
        var (whole, value) = (shown.Value.Split('.')[0], Body.Strong);
        return new(
            height,
            [.. Stack(names, 0, top, Body), .. Stack(context, 0, top + (names.Length * Body.LineHeight), Small)],
            new(shown.Value, Point - fonts.Width(whole, value), middle + value.Size, value),
            UncertaintyOf(shown, Math.Max(After, Point + fonts.Width(shown.Value[whole.Length..], value) + 5), middle + Body.Size, fonts),
            bar is null ? null : new RowBar(bar, (height - (float)bar.Height) / 2),
            figure.Ruling is { } ruling ? RulingOf(ruling, says, (height - saysHeight) / 2) : null);
    }

    private static ImmutableArray<RowText> UncertaintyOf(Shown shown, float x, float y, PdfFonts fonts)
    {
        var uncertain = shown.Uncertainty.Length > 0 ? $"± {shown.Uncertainty}" : shown.Interval.Length > 0 ? $"({shown.Interval})" : "";
        var unit = $"{shown.Power} {shown.Unit}".Trim();
        var beside = x + fonts.Width(uncertain, Body) + (uncertain.Length > 0 ? 3 : 0);
        var fits = beside + fonts.Width(unit, UnitStyle) < BarLeft;
        return [new(uncertain, x, y, Body), new(unit, fits ? beside : x, y + (fits ? 0 : Small.LineHeight), UnitStyle)];
    }

    private static ImmutableArray<string> SaysOf(ReportFigure item, PdfFonts fonts)
    {
        var figure = item.Figure;
        ImmutableArray<string> Wrapped(string text) => text.Length > 0 ? fonts.Wrap(text, PdfSheet.Width - Says, Small) : [];
        return figure is { Limit: { } limit, Conformance: { } conformance }
            ?
            [
                .. Wrapped($"{Shown.Of(limit, figure.Measured.Unit)} · {EnumWords.Of(limit.Severity)}"),
                .. Wrapped(figure.WorstPiece),
                .. Wrapped($"in the limit: {Shown.Probability(conformance)}"),
                .. Wrapped(item.Context.Length == 0 ? limit.Source : ""),
            ]
            : [];
    }

    private static RowRuling RulingOf(Ruling ruling, ImmutableArray<string> says, float top) => new(
        ruling,
        top + 2,
        new(EnumWords.Of(ruling), Says + 12, top + Body.Size, Body.Strong with { Ink = PdfPen.Ink(Palette.Of(ruling)) }),
        [.. Stack(says, Says, top + Body.LineHeight, Small)]);

    /// <summary>Lines below each other.</summary>
    private static IEnumerable<RowText> Stack(ImmutableArray<string> lines, float x, float top, TextStyle style) =>
        lines.Select((line, i) => new RowText(line, x, top + (i * style.LineHeight) + style.Size, style));
}
