using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear;
using Pairbench.Imaging;

namespace Pairbench.Reporting.CorrectionSheets;

/// <summary>The correction sheet as pages: an overview, then one page for each item with its picture, English beside the language of the factory.</summary>
public static class CorrectionReport
{
    private static readonly ImmutableArray<string> OverviewColumns = ["number", "severity", "component", "what-is-wrong", "by-when", "owner", "state"];

    /// <param name="language">Null for English alone.</param>
    public static ReportModel Build(CorrectionSheet sheet, IPhotoSource photos, Glossary glossary, GlossaryLanguage? language, Imprint imprint)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(glossary);
        var pictures = new ReportPictures(photos);
        var words = new Words(glossary, language);
        return new ReportModel(
            words["correction-sheet"],
            $"{sheet.Review.Style.Name}, {sheet.Review.Build.Label}",
            imprint,
            [Overview(sheet, words, imprint), .. sheet.Lines.Select(l => Page(l, pictures, words))]);
    }

    private static ReportSection Overview(CorrectionSheet sheet, Words words, Imprint imprint)
    {
        var (style, build) = (sheet.Review.Style, sheet.Review.Build);
        ImmutableArray<(string, string?)> facts =
        [
            ("to", sheet.Review.Corrections?.To),
            ("style", style.Name),
            ("build", build.Label),
            ("factory", build.Factory),
            ("order", build.Order),
            ("lot", build.Lot),
            ("colourway", build.Colourway),
            ("size", sheet.Review.Pair?.Size),
            ("examined-by", sheet.Review.Examiner?.Name),
            ("date", Display.Day(imprint.On)),
        ];
        var blocks = ImmutableArray.CreateBuilder<Block>();
        blocks.Add(new Block.Facts([.. facts.Where(f => !string.IsNullOrEmpty(f.Item2)).Select(f => (words[f.Item1], f.Item2!))]));
        blocks.Add(sheet.Lines.IsEmpty
            ? new Block.Paragraph("Nothing is asked of the factory: no finding, and no figure outside its limit.")
            : new Block.Grid(new Table(
                "items",
                words["finding"],
                [.. OverviewColumns.Select(c => new Column(c, words[c]))],
                [.. sheet.Lines.Select(l => new[]
                {
                    l.Number.ToString(CultureInfo.InvariantCulture), words.Of(l.Severity), words.Typed(l.Component), l.Words, Display.Day(l.By), l.Owner, l.Reply is { } r ? words.Of(r.State) : words["open"],
                }.Select(t => (Cell)t).ToImmutableArray())])));
        if (words.Caution is { } caution)
        {
            blocks.Add(new Block.Paragraph(caution));
        }

        return new ReportSection("items", words["correction-sheet"], blocks.ToImmutable());
    }

    private static ReportSection Page(CorrectionLine line, ReportPictures pictures, Words words)
    {
        var anchor = string.Create(CultureInfo.InvariantCulture, $"item-{line.Number}");
        var picture = line.Finding is { } finding && pictures.Of(finding) is { } found
            ? found with { Mark = found.Mark.WithArrow(new PixelSize(found.Width, found.Height)) }
            : null;
        ImmutableArray<(string, string)> facts =
        [
            ("severity", words.Of(line.Severity)),
            ("component", words.Typed(line.Component)),
            ("side", words.Typed(line.Side)),
            ("zone", words.Typed(line.Zone)),
            ("measured", line.Measured),
            ("limit", line.Limit),
            ("what-to-do", words.WhatToDo(line)),
            ("by-when", Display.Day(line.By)),
            ("owner", line.Owner),
        ];
        var blocks = ImmutableArray.CreateBuilder<Block>();
        blocks.Add(new Block.Heading(words["what-is-wrong"]));
        blocks.Add(new Block.Paragraph(line.Words));
        blocks.Add(new Block.Facts([.. facts.Where(f => f.Item2.Length > 0).Select(f => (words[f.Item1], f.Item2))]));
        if (line.Figure is { } figure)
        {
            blocks.Add(new Block.Figures([new ReportFigure(figure, line.Address, anchor + "-figure")]));
        }

        if (picture is not null)
        {
            blocks.Add(new Block.Pictures([picture with { Caption = words["picture"] }], PictureSize.Wide));
        }

        blocks.Add(new Block.Heading(words["answer"]));
        blocks.Add(new Block.Facts(line.Reply is { } reply
            ? [(words["state"], words.Of(reply.State)), (words["words"], reply.Words ?? ""), (words["answered-by"], reply.By ?? ""), (words["answered-on"], Display.Day(reply.On))]
            : [(words["state"], Dots), (words["words"], Dots), (words["answered-by"], Dots), (words["answered-on"], Dots), (words["signature"], Dots)]));
        return new ReportSection(anchor, $"{words["finding"]} {line.Number.ToString(CultureInfo.InvariantCulture)}", blocks.ToImmutable(), SectionStart.NewPage);
    }

    private const string Dots = "................................";

    private sealed record Words(Glossary Glossary, GlossaryLanguage? Language)
    {
        public string this[string id] => Glossary.Both(id, Language);

        public string? Caution => Language is { } l && !Glossary.IsChecked(l)
            ? $"The words in {l.English} were not checked by a native speaker of the trade; where in doubt the English ones hold. What a person wrote stands as it was written."
            : null;

        public string Of(Measuring.Severity severity) => Glossary.Of(severity, Language);

        public string Of(ReplyState state) => Glossary.Of(state, Language);

        public string WhatToDo(CorrectionLine line) => Glossary.WhatToDo(line, Language);

        public string Typed(string words) => Glossary.Typed(words, Language);
    }
}
