using DocumentFormat.OpenXml.Spreadsheet;

namespace Pairbench.Reporting.CorrectionSheets;

/// <summary>Looks of cells, by their number in the stylesheet.</summary>
internal enum CellLook
{
    Plain,
    Title,
    Head,
    Fixed,
    Answer,
}

/// <summary>The stylesheet of the correction sheet: what is asked on grey, what is to be filled in with a thick frame.</summary>
internal static class CorrectionStyles
{
    public static Stylesheet Sheet() => new(
        new Fonts(new Font(new FontSize { Val = 10 }), new Font(new Bold(), new FontSize { Val = 14 }), new Font(new Bold(), new FontSize { Val = 10 })),
        new Fills(
            new Fill(new PatternFill { PatternType = PatternValues.None }),
            new Fill(new PatternFill { PatternType = PatternValues.Gray125 }),
            Solid("FFEFEDE8")),
        new Borders(new Border(), Framed(BorderStyleValues.Thin), Framed(BorderStyleValues.Medium)),
        new CellFormats(
            new CellFormat(),
            new CellFormat { FontId = 1, ApplyFont = true },
            Wrapped(new CellFormat { FontId = 2, FillId = 2, BorderId = 1, ApplyFont = true, ApplyFill = true, ApplyBorder = true }),
            Wrapped(new CellFormat { FillId = 2, BorderId = 1, ApplyFill = true, ApplyBorder = true }),
            Wrapped(new CellFormat { BorderId = 2, ApplyBorder = true })));

    private static Fill Solid(string colour) => new(new PatternFill(new ForegroundColor { Rgb = colour }) { PatternType = PatternValues.Solid });

    private static Border Framed(BorderStyleValues style) => new(
        new LeftBorder { Style = style },
        new RightBorder { Style = style },
        new TopBorder { Style = style },
        new BottomBorder { Style = style });

    private static CellFormat Wrapped(CellFormat format)
    {
        format.Alignment = new Alignment { WrapText = true, Vertical = VerticalAlignmentValues.Top };
        format.ApplyAlignment = true;
        return format;
    }
}
