using System.Collections.Immutable;
using Pairbench.Footwear;

namespace Pairbench.Reporting;

/// <summary>Who made a report and when; given by the caller, since a report has no clock.</summary>
/// <param name="Program">Name and version, such as <c>Pairbench 0.1.0</c>.</param>
public sealed record Imprint(string Program, DateOnly On)
{
    /// <summary>Version of this program, such as <c>0.1.0</c>.</summary>
    public static string ProgramVersion { get; } = typeof(Imprint).Assembly.GetName().Version?.ToString(3) ?? "";

    public static Imprint OfThisProgram(DateOnly on) => new($"Pairbench {ProgramVersion}", on);
}

/// <summary>
/// A report as sections of blocks. Every painter (HTML, PDF) draws the same blocks; none knows an examination.
/// </summary>
/// <param name="Kind">What it is, over the title.</param>
/// <param name="Title">Style and build.</param>
public sealed record ReportModel(string Kind, string Title, Imprint Imprint, ImmutableArray<ReportSection> Sections);

/// <summary>Where a section begins on paper.</summary>
public enum SectionStart
{
    Flowing,
    NewPage,
}

/// <summary>A section with a place in the contents.</summary>
/// <param name="Id">Unique in the report; usable as an anchor.</param>
public sealed record ReportSection(string Id, string Title, ImmutableArray<Block> Blocks, SectionStart Start = SectionStart.Flowing);

/// <summary>A part of a section.</summary>
public abstract record Block
{
    private Block()
    {
    }

    /// <summary>A heading below the section's own.</summary>
    public sealed record Heading(string Text) : Block;

    public sealed record Paragraph(string Text) : Block;

    /// <summary>Sentences below each other; a sentence may lead to an anchor of the report.</summary>
    public sealed record Sentences(ImmutableArray<Sentence> Items) : Block;

    /// <summary>The verdict or the decision as one large word with its shape.</summary>
    public sealed record Word(string Label, VerdictWord Verdict) : Block;

    /// <summary>Names with what belongs to them.</summary>
    public sealed record Facts(ImmutableArray<(string Name, string Value)> Items) : Block;

    /// <summary>Figures as rows: name, value, limit bar, ruling.</summary>
    public sealed record Figures(ImmutableArray<ReportFigure> Items) : Block;

    /// <summary>Where the uncertainty of figures comes from.</summary>
    public sealed record Budgets(ImmutableArray<ReportFigure> Items) : Block;

    public sealed record Grid(Footwear.Table Table) : Block;

    /// <summary>A numbered finding with its picture.</summary>
    public sealed record Note(int Number, FullAddress Address, string Anchor, Finding Finding, ReportPicture? Picture) : Block;

    /// <summary>Pictures with captions: plates large, photographs small.</summary>
    public sealed record Pictures(ImmutableArray<ReportPicture> Items, PictureSize Size) : Block;
}

/// <summary>How large a picture stands on the page.</summary>
public enum PictureSize
{
    /// <summary>Three beside each other.</summary>
    Small,

    /// <summary>As wide as the text.</summary>
    Wide,
}

/// <param name="Anchor">Id of a place in the report; null where it leads nowhere.</param>
public sealed record Sentence(string Text, string? Anchor = null);

/// <summary>A figure with its full address and its anchor.</summary>
/// <param name="Context">What tells it from figures of the same name elsewhere, such as the examination and entry; may be empty.</param>
public sealed record ReportFigure(Figure Figure, FullAddress Address, string Anchor, string Context = "");

/// <summary>A picture as it goes into a report: encoded anew, so that nothing of camera, place or person comes along.</summary>
/// <param name="MediaType"><c>image/png</c>, <c>image/jpeg</c> or <c>image/svg+xml</c>.</param>
/// <param name="Width">Pixels.</param>
/// <param name="Height">Pixels.</param>
/// <param name="Mark">Drawn over the picture, in its pixels.</param>
/// <param name="Words">What it shows, for those who do not see it.</param>
public sealed record ReportPicture(string MediaType, ReadOnlyMemory<byte> Content, int Width, int Height, string Caption, string Words, PictureMark Mark);
