using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Change;

/// <summary>A figure as an earlier examination printed it.</summary>
/// <param name="Address">Full address in its review.</param>
/// <param name="Measured">With the printed budget, its causes named so that those of other reviews are not taken for them, widened where the printed interval or uncertainty says more than the budget does.</param>
public sealed record PastFigure(FullAddress Address, string Label, Measured Measured, Limit? Limit)
{
    /// <summary>As the review printed it, which knew the draws of the figure; reckoned anew where the outcome prints none. Null where there is no limit.</summary>
    public Ruling? Ruling { get; init; } = Limit?.Rule(Measured);
}

/// <summary>A finding as an earlier examination printed it.</summary>
/// <param name="Address">Full address in its review.</param>
/// <param name="Correction">What the factory should do; empty where nothing is said.</param>
/// <param name="Figure">The figure that it rests on; null where it rests on none.</param>
/// <param name="CarriedFrom">Id of the review and address of the finding that it was carried from; empty where it was found anew.</param>
public sealed record PastFinding(FullAddress Address, Severity Severity, string Words, string Check, string Component, string Side, string Zone, string Correction, FullAddress? Figure, string CarriedFrom)
{
    /// <summary>What makes two findings of two reviews the same complaint: the check where there is one, and the place.</summary>
    public string Complaint => string.Join('|', Check.Length > 0 ? Check : Words, Component, Side, Zone);

    /// <summary>As a later review names it that carries it on: id of this review, then its address here.</summary>
    public string OnReview(string id) => $"{id}/{Address}";
}

/// <summary>One row of a table that an earlier examination printed: its key and what stands in it.</summary>
/// <param name="Outcome">The outcome that the table is of.</param>
/// <param name="Table">Name of the table.</param>
/// <param name="Key">The text of the first cell.</param>
public sealed record PastRow(EntryAddress Outcome, string Table, string Key, string Words);

/// <summary>What one review found, read back from the form in which outcomes are printed.</summary>
/// <param name="Id">Id of the review on the shelf; empty where it is not known.</param>
public sealed record PastOutcomes(string Id, string Label, ImmutableArray<PastFigure> Figures, ImmutableArray<PastFinding> Findings, ImmutableArray<PastRow> Rows)
{
    private const double Coverage = 0.95;

    private static readonly ImmutableHashSet<string> OwnFields =
        ["examination", "entry", "figures", "findings", "plates", "tables", "notSeen", "assumptions", "cautions", "basis"];

    /// <summary>Reads what a shelf keeps of a review that was examined.</summary>
    /// <param name="noted">The document of <c>examine --json</c>.</param>
    /// <param name="id">Of the review.</param>
    /// <exception cref="FaultsException">There are no outcomes in it, one does not have the printed form, or a figure stands twice.</exception>
    public static PastOutcomes Kept(string noted, string id)
    {
        using var document = JsonDocument.Parse(noted);
        return Read(new ReviewOutcomes(ReviewComparison.OutcomesOf(document.RootElement, id)), id);
    }

    /// <summary>Reads the outcomes of a review.</summary>
    /// <param name="where">Place of the review in the evidence.</param>
    /// <exception cref="FaultsException">An outcome does not have the printed form, or a figure stands twice.</exception>
    public static PastOutcomes Read(ReviewOutcomes review, string where)
    {
        ArgumentNullException.ThrowIfNull(review);
        var faults = new List<Fault>();
        var figures = new List<PastFigure>();
        var findings = new List<PastFinding>();
        var rows = new List<PastRow>();
        var causes = ReviewCauses.Of(review, review.Id ?? where);
        for (var i = 0; i < review.Outcomes.Length; i++)
        {
            var place = $"{where}.outcomes[{i}]";
            try
            {
                var read = ShapeReader.Read<OutcomeShape>(review.Outcomes[i], place, out var _);
                var own = new EntryAddress(read.Examination, read.Entry);
                figures.AddRange(read.Figures.Select((f, k) => Figure(f, own.Of(f.Id), $"{place}.figures[{k}]", where, causes)));
                findings.AddRange(read.Findings.Select(f => Finding(f, own)));
                rows.AddRange(Tables(review.Outcomes[i], own));
            }
            catch (FaultsException e)
            {
                faults.AddRange(e.Faults);
            }
        }

        faults.AddRange(figures.GroupBy(f => f.Address).Where(g => g.Count() > 1)
            .Select(g => new Fault($"{where}.outcomes", $"has the figure '{g.Key}' {g.Count()} times", "give each outcome of a review once")));
        return faults.Count == 0
            ? new PastOutcomes(review.Id ?? "", review.Label ?? review.Build?.Label ?? where, [.. figures], [.. findings], [.. rows])
            : throw new FaultsException(faults);
    }

    private static PastFinding Finding(FindingShape finding, EntryAddress own) => new(
        own.Of(finding.Id),
        finding.Severity,
        finding.Words,
        finding.Check ?? "",
        finding.Component ?? "",
        finding.Side ?? "",
        finding.Zone ?? "",
        finding.Correction ?? "",
        finding.Figure is { Length: > 0 } figure ? FullAddress.Read(figure) ?? own.Of(figure) : null,
        finding.CarriedFrom ?? "");

    private static PastFigure Figure(FigureShape figure, FullAddress address, string place, string review, ReviewCauses causes)
    {
        try
        {
            var limit = figure.Limit is { } l ? new Limit(l.Min, l.Max, l.Severity, l.Source ?? "", l.Probability) : null;
            var past = new PastFigure(address, figure.Label ?? figure.Id, Value(figure, address, review, causes), limit);
            return limit is not null && figure.Ruling is { } ruling ? past with { Ruling = ruling } : past;
        }
        catch (ArgumentException e)
        {
            throw new FaultsException(new Fault(place, $"is no figure: {e.Message}", "give it as examine --json prints it"));
        }
    }

    private static Measured Value(FigureShape figure, FullAddress address, string review, ReviewCauses causes)
    {
        var unit = figure.Unit ?? "";
        var budget = figure.Budget.Select(c => new Contribution(causes.Among(c.Cause), c.Type == "A" ? Evaluation.TypeA : Evaluation.TypeB, c.Contribution, c.DegreesOfFreedom ?? double.PositiveInfinity)).ToImmutableArray();
        var stated = figure.StandardUncertainty ?? 0;
        if (budget.IsEmpty && stated > 0)
        {
            budget = [new Contribution($"{review}:{address}", Evaluation.TypeB, stated, figure.DegreesOfFreedom ?? double.PositiveInfinity)];
        }

        var measured = Measured.Of(figure.Value, unit, budget);
        if (measured.IsExact)
        {
            return measured;
        }

        // A sampled state of knowledge prints an interval that its budget alone does not give: the wider of the two sides is kept.
        var reach = figure.Interval is { } interval ? Math.Max(interval.Upper - figure.Value, figure.Value - interval.Lower) : 0;
        var factor = Math.Max(1, Math.Max(stated / measured.StandardUncertainty, reach / measured.ExpandedUncertainty(Coverage)));
        return factor < 1.001 ? measured : Measured.Of(figure.Value, unit, measured.Budget.Select(c => c with { Value = c.Value * factor }));
    }

    private static IEnumerable<PastRow> Tables(JsonElement outcome, EntryAddress own)
    {
        var inside = outcome.TryGetProperty("tables", out var tables) && tables.ValueKind == JsonValueKind.Object ? tables.EnumerateObject() : default;
        foreach (var table in inside.Concat(outcome.EnumerateObject().Where(p => !OwnFields.Contains(p.Name))))
        {
            var name = table.Name;
            switch (table.Value.ValueKind)
            {
                case JsonValueKind.Array:
                    foreach (var row in table.Value.EnumerateArray())
                    {
                        var cells = row.ValueKind == JsonValueKind.Object ? [.. row.EnumerateObject().Select(p => Words(p.Value))] : ImmutableArray.Create(Words(row));
                        yield return new PastRow(own, name, cells.IsEmpty ? "" : cells[0], string.Join(", ", cells.Skip(1).Where(c => c.Length > 0)));
                    }

                    break;
                case JsonValueKind.Object:
                    foreach (var row in table.Value.EnumerateObject())
                    {
                        yield return new PastRow(own, name, row.Name, Words(row.Value));
                    }

                    break;
            }
        }
    }

    private static string Words(JsonElement e) => e.ValueKind switch
    {
        JsonValueKind.String => e.GetString()!,
        JsonValueKind.Number => e.GetDouble().ToString("0.####", System.Globalization.CultureInfo.InvariantCulture),
        JsonValueKind.True => "yes",
        JsonValueKind.False => "no",
        JsonValueKind.Array => string.Join("; ", e.EnumerateArray().Select(Words)),
        JsonValueKind.Object when e.TryGetProperty("value", out var value) => $"{Words(value)} {(e.TryGetProperty("unit", out var unit) ? Units.Shown(Words(unit)) : "")}".Trim(),
        JsonValueKind.Object => string.Join(", ", e.EnumerateObject().Select(p => $"{p.Name} {Words(p.Value)}")),
        _ => "",
    };

}
