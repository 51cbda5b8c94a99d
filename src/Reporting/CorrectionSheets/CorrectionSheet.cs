using System.Collections.Immutable;
using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Reporting.CorrectionSheets;

/// <summary>One thing that the factory is asked to put right.</summary>
/// <param name="Address">Full address of the finding, or of the figure that lies outside its limit.</param>
/// <param name="WhatToDo">As a person or the finding says it; empty where a figure is simply to come into its limit, which <see cref="Glossary.WhatToDo"/> puts into words.</param>
/// <param name="Measured">The figure that it rests on, of pieces that were counted the worst one, as people read it; empty where there is none.</param>
/// <param name="Limit">The limit of that figure; empty where there is none.</param>
/// <param name="Finding">Null where a figure outside its limit stands for itself.</param>
/// <param name="Figure">Null where the finding rests on none.</param>
public sealed record CorrectionLine(
    int Number,
    FullAddress Address,
    string Component,
    string Side,
    string Zone,
    Severity Severity,
    string Words,
    string WhatToDo,
    string Measured,
    string Limit,
    DateOnly? By,
    string Owner,
    CorrectionReply? Reply,
    Finding? Finding,
    Figure? Figure);

/// <summary>Everything that a review asks of the factory: its findings, and the figures that lie outside their limits; the gravest first.</summary>
/// <param name="ReviewId">Id of the review on its shelf; empty for one that lies in a folder.</param>
public sealed record CorrectionSheet(Review Review, ImmutableArray<CorrectionLine> Lines, string ReviewId = "")
{
    public static CorrectionSheet Of(Examined examined, Review review, string reviewId = "")
    {
        ArgumentNullException.ThrowIfNull(examined);
        ArgumentNullException.ThrowIfNull(review);
        var asked = review.Corrections ?? Corrections.None;
        var lines = WrongThing.Of(examined)
            .Select(w => w is WrongThing.Found found
                ? Line(w.Address, examined.FindingAt(w.Address)!, found.Figure is { } rests ? examined.FigureAt(rests) : null, asked)
                : Line(w.Address, examined.FigureAt(w.Address)!, asked))
            .OrderByDescending(l => l.Severity)
            .Select((l, i) => l with { Number = i + 1 });
        return new CorrectionSheet(review, [.. lines], reviewId);
    }

    private static CorrectionLine Line(FullAddress address, Finding finding, Figure? figure, Corrections asked)
    {
        var item = asked.Of(address);
        return new CorrectionLine(
            0,
            address,
            finding.Component ?? "",
            finding.Side is { } side ? EnumWords.Of(side) : "",
            finding.Zone ?? "",
            finding.Severity,
            finding.Words,
            item.WhatToDo ?? finding.Correction ?? "",
            figure is null ? "" : Display.Of(figure.Ruled),
            figure?.Limit is { } limit ? Display.Of(limit, figure.Measured.Unit) : "",
            item.By ?? asked.By,
            item.Owner ?? "",
            item.Reply,
            finding,
            figure);
    }

    private static CorrectionLine Line(FullAddress address, Figure figure, Corrections asked)
    {
        var item = asked.Of(address);
        return new CorrectionLine(
            0,
            address,
            figure.Component ?? "",
            "",
            "",
            figure.Limit!.Severity,
            $"{figure.Label} lies outside its limit.",
            item.WhatToDo ?? "",
            Display.Of(figure.Ruled),
            Display.Of(figure.Limit, figure.Measured.Unit),
            item.By ?? asked.By,
            item.Owner ?? "",
            item.Reply,
            null,
            figure);
    }
}
