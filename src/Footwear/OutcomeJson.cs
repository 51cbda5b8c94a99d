using System.Text.Json.Nodes;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>Outcomes and verdicts as JSON, in the form that other programs rely on.</summary>
public static class OutcomeJson
{
    private const double Coverage = 0.95;

    public static JsonObject Of(Outcome outcome)
    {
        ArgumentNullException.ThrowIfNull(outcome);
        var json = new JsonObject
        {
            ["examination"] = outcome.Examination,
            ["entry"] = outcome.Entry,
            ["figures"] = List(outcome.Figures, Of),
            ["findings"] = List(outcome.Findings, f => Of(f, outcome.Address)),
            ["plates"] = List(outcome.Plates, p => new JsonObject { ["id"] = p.Id, ["file"] = PlateFile(outcome, p), ["caption"] = p.Caption }),
            ["tables"] = new JsonObject(outcome.Tables.Where(t => t.Form == TableForm.Rows).Select(t => KeyValuePair.Create<string, JsonNode?>(t.Id, Rows(t)))),
            ["notSeen"] = List(outcome.NotSeen, n => new JsonObject { ["id"] = n.Id, ["words"] = n.Words, ["required"] = n.Required }),
            ["assumptions"] = Texts(outcome.Assumptions),
            ["cautions"] = Texts(outcome.Cautions),
            ["basis"] = List(outcome.Basis, b => new JsonObject { ["kind"] = EnumWords.Of(b.Kind), ["reference"] = b.Reference, ["edition"] = b.Edition }),
        };
        foreach (var table in outcome.Tables.Where(t => t.Form != TableForm.Rows))
        {
            json[table.Id] = table.Form switch
            {
                TableForm.NamedRows => Rows(table),
                TableForm.NamedTexts => new JsonArray([.. table.Rows.Select(r => Of(r[0]))]),
                _ => new JsonObject(table.Rows.Select(r => KeyValuePair.Create<string, JsonNode?>(((Cell.Text)r[0]).Words, Row(table, r, 1)))),
            };
        }

        return json;
    }

    public static JsonObject Of(Verdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return new JsonObject
        {
            ["word"] = EnumWords.Of(verdict.Word),
            ["because"] = List(verdict.Because, Of),
            ["wouldChange"] = List(verdict.WouldChange, Of),
            ["notSeen"] = List(verdict.NotSeen, Of),
            ["rules"] = List(verdict.Rules, r => new JsonObject { ["id"] = r.Id, ["words"] = r.Words }),
        };
    }

    public static JsonObject Of(Examined examined, Decision? decision)
    {
        ArgumentNullException.ThrowIfNull(examined);
        return new JsonObject
        {
            ["outcomes"] = List(examined.Outcomes, Of),
            ["verdict"] = Of(examined.Verdict),
            ["decision"] = decision is null ? null : Of(decision),
        };
    }

    /// <summary>The same of a review, with its decision and what is to be heeded besides the outcomes.</summary>
    public static JsonObject OfReview(Examined examined, Review review)
    {
        ArgumentNullException.ThrowIfNull(review);
        var json = Of(examined, review.Decision);
        json["cautions"] = Texts(review.Cautions);
        return json;
    }

    /// <summary>The name under which a plate is written out: examination, entry, file. It cannot lead out of a folder.</summary>
    public static string PlateFile(Outcome outcome, Plate plate) =>
        string.Concat($"{outcome.Examination}-{outcome.Entry}-{plate.File}".Select(c => char.IsAsciiLetterOrDigit(c) || c is '-' or '_' or '.' ? c : '-')).TrimStart('.');

    private static JsonObject Of(Decision decision) => new()
    {
        ["taken"] = EnumWords.Of(decision.Taken),
        ["by"] = decision.By,
        ["on"] = Dates.Text(decision.On),
        ["reason"] = decision.Reason,
        ["until"] = decision.Until is { } until ? Dates.Text(until) : null,
        ["for"] = decision.For,
    };

    private static JsonObject Of(Figure figure)
    {
        var json = Of(figure.Measured);
        json.Insert(0, "id", figure.Id);
        json.Insert(1, "label", figure.Label);
        json["limit"] = figure.Limit is { } limit
            ? new JsonObject
            {
                ["min"] = limit.Min,
                ["max"] = limit.Max,
                ["severity"] = EnumWords.Of(limit.Severity),
                ["probability"] = limit.Probability,
                ["source"] = limit.Source,
            }
            : null;
        json["ruling"] = figure.Ruling is { } ruling ? EnumWords.Of(ruling) : null;
        json["conformance"] = figure.Conformance;
        if (figure.WorstPiece.Length > 0)
        {
            json["worst"] = figure.Ruled.Value;
        }

        json["budget"] = List(figure.Measured.Budget, c => new JsonObject
        {
            ["cause"] = c.Cause,
            ["type"] = c.Evaluation == Evaluation.TypeA ? "A" : "B",
            ["contribution"] = c.Value,
            ["degreesOfFreedom"] = Finite(c.DegreesOfFreedom),
        });
        return json;
    }

    private static JsonObject Of(Measured measured)
    {
        var json = new JsonObject { ["value"] = measured.Value, ["unit"] = measured.Unit };
        if (measured.IsExact)
        {
            json["standardUncertainty"] = null;
            json["degreesOfFreedom"] = null;
            json["expandedUncertainty"] = null;
            json["interval"] = null;
        }
        else
        {
            var interval = measured.CoverageInterval(Coverage);
            json["standardUncertainty"] = measured.StandardUncertainty;
            json["degreesOfFreedom"] = Finite(measured.DegreesOfFreedom);
            json["expandedUncertainty"] = measured.ExpandedUncertainty(Coverage);
            json["interval"] = new JsonArray(interval.Lower, interval.Upper);
        }

        json["coverage"] = Coverage;
        return json;
    }

    /// <param name="own">A figure of the same outcome is named by its id alone.</param>
    private static JsonObject Of(Finding finding, EntryAddress own) => new()
    {
        ["id"] = finding.Id,
        ["check"] = finding.Check,
        ["component"] = finding.Component,
        ["side"] = finding.Side is { } side ? EnumWords.Of(side) : null,
        ["zone"] = finding.Zone,
        ["severity"] = EnumWords.Of(finding.Severity),
        ["words"] = finding.Words,
        ["correction"] = finding.Correction,
        ["photo"] = finding.Photo,
        ["mark"] = finding.Mark is { } mark ? JsonNode.Parse(mark.GetRawText()) : null,
        ["figure"] = finding.Figure?.In(own),
        ["carriedFrom"] = finding.CarriedFrom,
    };

    private static JsonObject Of(Reason reason) => new() { ["rule"] = reason.Rule, ["address"] = reason.Address.ToString(), ["words"] = reason.Words };

    private static JsonArray Rows(Table table) => new([.. table.Rows.Select(r => Row(table, r, 0))]);

    private static JsonObject Row(Table table, IReadOnlyList<Cell> row, int from) =>
        new(table.Columns.Select((c, i) => (c, i)).Where(c => c.i >= from).Select(c => KeyValuePair.Create(c.c.Id, Of(row[c.i]))));

    private static JsonNode? Of(Cell cell) => cell switch
    {
        Cell.Text text => JsonValue.Create(text.Words),
        Cell.Number { Measured.IsExact: true } number => JsonValue.Create(number.Measured.Value),
        Cell.Number number => Of(number.Measured),
        Cell.Texts texts => Texts(texts.Lines),
        Cell.Places places => JsonValue.Create(places.InWords()),
        Cell.Empty => null,
        _ => throw new InvalidOperationException($"A table has no {cell.GetType().Name}."),
    };

    private static JsonArray List<T>(IEnumerable<T> items, Func<T, JsonObject> write) => new([.. items.Select(i => (JsonNode)write(i))]);

    private static JsonArray Texts(IEnumerable<string> lines) => new([.. lines.Select(l => (JsonNode)JsonValue.Create(l))]);

    private static JsonValue? Finite(double value) => double.IsFinite(value) ? JsonValue.Create(value) : null;
}
