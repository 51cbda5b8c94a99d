using System.Collections.Immutable;
using System.Globalization;
using System.IO.Compression;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;
using Cell = DocumentFormat.OpenXml.Spreadsheet.Cell;
using Column = DocumentFormat.OpenXml.Spreadsheet.Column;

namespace Pairbench.Reporting.CorrectionSheets;

/// <summary>The answers of a factory as read from a sheet that came back.</summary>
/// <param name="Replies">By full address of the item; items without an answer are not among them.</param>
/// <param name="NoLongerAsked">Answers to what the review asked about when the sheet was sent out, and asks about no more; they are not taken.</param>
public sealed record CorrectionReplies(ImmutableDictionary<string, CorrectionReply> Replies, ImmutableArray<Fault> NoLongerAsked);

/// <summary>
/// The correction sheet as a plain spreadsheet (Office Open XML, ISO/IEC 29500) that a factory fills in with whatever program it has and sends back.
/// </summary>
/// <remarks>
/// A hidden first row names the columns for reading back, so that columns may be moved, widened or added. In the hidden first column stands below it of which review and of which build the sheet is:
/// the addresses of its findings are those of any other review too.
/// </remarks>
public static class CorrectionWorkbook
{
    private const int MostBytes = 8 << 20;
    private const long MostUnpacked = 64L << 20;
    private const int MostRows = 5000;
    internal const string KeyPrefix = "key:";
    private const string OfReview = KeyPrefix + "review=";
    private const string OfBuild = KeyPrefix + "build=";

    private static readonly ImmutableArray<(string Key, double Width)> Columns =
    [
        ("address", 0), ("number", 6), ("severity", 16), ("component", 20), ("side", 12), ("zone", 16), ("what-is-wrong", 44), ("measured", 20), ("limit", 20),
        ("what-to-do", 44), ("by-when", 14), ("owner", 18), ("state", 18), ("words", 36), ("answered-by", 18), ("answered-on", 16),
    ];

    /// <summary>The whole file.</summary>
    public static byte[] Write(CorrectionSheet sheet, Glossary glossary, GlossaryLanguage? language)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(glossary);
        using var memory = new MemoryStream();
        using (var document = SpreadsheetDocument.Create(memory, SpreadsheetDocumentType.Workbook))
        {
            var workbook = document.AddWorkbookPart();
            var styles = workbook.AddNewPart<WorkbookStylesPart>();
            styles.Stylesheet = CorrectionStyles.Sheet();
            var part = workbook.AddNewPart<WorksheetPart>();
            part.Worksheet = Page(sheet, glossary, language);
            workbook.Workbook = new Workbook(new DocumentFormat.OpenXml.Spreadsheet.Sheets(new Sheet { Id = workbook.GetIdOfPart(part), SheetId = 1, Name = "corrections" }));
        }

        return memory.ToArray();
    }

    /// <summary>Reads what the factory filled in.</summary>
    /// <param name="name">Name of the file, for messages.</param>
    /// <param name="asked">The sheet of the review that is to take the answers.</param>
    /// <exception cref="FaultsException">It is no such sheet or that of another review, or an answer cannot be read: one fault for each, and then no answer is taken.</exception>
    public static CorrectionReplies Read(byte[] content, string name, Glossary glossary, CorrectionSheet asked)
    {
        ArgumentNullException.ThrowIfNull(content);
        ArgumentNullException.ThrowIfNull(glossary);
        ArgumentNullException.ThrowIfNull(asked);
        var rows = Rows(content, name);
        var keys = rows.Select(r => r.Cells.Where(c => c.Value.StartsWith(KeyPrefix, StringComparison.Ordinal)).OrderBy(c => c.Key.Length).ThenBy(c => c.Key, StringComparer.Ordinal).ToLookup(c => c.Value[KeyPrefix.Length..], c => c.Key, StringComparer.Ordinal)).FirstOrDefault(k => k.Contains("address"))
            ?? throw new FaultsException(new Fault(name, "has no row that names the columns", "send back the sheet that was sent out, with its hidden first row and first column"));
        var isOfThis = CheckReview(rows, name, asked);
        var known = asked.Lines.Select(l => l.Address.ToString()).ToHashSet(StringComparer.Ordinal);
        var (faults, noLongerAsked) = (new List<Fault>(), new List<Fault>());
        var replies = ImmutableDictionary.CreateBuilder<string, CorrectionReply>(StringComparer.Ordinal);
        foreach (var row in rows.Select(r => new ReturnedRow(string.Create(CultureInfo.InvariantCulture, $"{name}, row {r.Number}"), r.Cells, keys)).Where(r => r.IsAnswered))
        {
            faults.AddRange(row.Doubled(glossary));
            var isAsked = known.Contains(row.Address);
            if (!isAsked && isOfThis)
            {
                noLongerAsked.Add(new Fault(row.Place, $"answers '{row.Address}', which this review no longer asks about", "the answer is not taken"));
                continue;
            }

            if (!isAsked)
            {
                faults.Add(new Fault(row.Place, $"answers '{row.Address}', which this review does not ask about", "send back the sheet of this review"));
            }

            faults.AddRange(row.Unreadable(glossary));
            if (row.Reply(glossary) is { } reply && !replies.TryAdd(row.Address, reply))
            {
                faults.Add(new Fault(row.Place, $"answers '{row.Address}' a second time", "answer each finding in one row"));
            }
        }

        return faults.Count == 0 ? new CorrectionReplies(replies.ToImmutable(), [.. noLongerAsked]) : throw new FaultsException(faults);
    }

    /// <summary>Whether the sheet was sent out for just this review; false for one that does not say which review it is of.</summary>
    /// <exception cref="FaultsException">It is of another review or build.</exception>
    private static bool CheckReview(ImmutableArray<(int Number, ImmutableDictionary<string, string> Cells)> rows, string name, CorrectionSheet asked)
    {
        string? Stated(string key) => rows.SelectMany(r => r.Cells.Values).FirstOrDefault(c => c.StartsWith(key, StringComparison.Ordinal))?[key.Length..].Trim();
        var (review, build) = (Stated(OfReview), Stated(OfBuild));
        var isKnown = review is not null && asked.ReviewId.Length > 0;
        return (isKnown ? review == asked.ReviewId : build is null || build == Writable(BuildOf(asked)).Trim())
            ? isKnown
            : throw new FaultsException(new Fault(name, $"is the sheet of another review: {build ?? review}{(isKnown && build == BuildOf(asked) ? $" ({review})" : "")}", $"give the one of {BuildOf(asked)}{(isKnown ? $" ({asked.ReviewId})" : "")}"));
    }

    private static string BuildOf(CorrectionSheet sheet) => $"{sheet.Review.Style.Name}, {sheet.Review.Build.Label}";

    private static Worksheet Page(CorrectionSheet sheet, Glossary glossary, GlossaryLanguage? language)
    {
        var rows = new SheetData();
        var headers = language is null ? 1 : 2;
        rows.Append(TextRow(1, Columns.Select(c => (KeyPrefix + c.Key, CellLook.Plain)), hidden: true));
        rows.Append(TextRow(2, [(OfBuild + BuildOf(sheet), CellLook.Plain), ($"{glossary.Both("correction-sheet", language)}: {BuildOf(sheet)}", CellLook.Title)]));
        rows.Append(TextRow(3, [(sheet.ReviewId.Length > 0 ? OfReview + sheet.ReviewId : "", CellLook.Plain), (glossary.Both("fill-in", language), CellLook.Plain)]));
        rows.Append(TextRow(4, [("", CellLook.Plain), (glossary.Both("date-form", language), CellLook.Plain)]));
        rows.Append(TextRow(5, Columns.Select(c => (c.Key == "address" ? "" : glossary.English(c.Key), CellLook.Head))));
        if (language is not null)
        {
            rows.Append(TextRow(6, Columns.Select(c => (c.Key == "address" ? "" : glossary.In(c.Key, language) ?? "", CellLook.Head))));
        }

        foreach (var line in sheet.Lines)
        {
            rows.Append(TextRow(4 + headers + line.Number, Columns.Select(c => (Text(line, c.Key, glossary, language), ReturnedRow.Answers.Contains(c.Key) ? CellLook.Answer : CellLook.Fixed))));
        }

        var columns = new Columns(Columns.Select((c, i) => new Column { Min = (uint)i + 1, Max = (uint)i + 1, Width = Math.Max(c.Width, 1), CustomWidth = true, Hidden = c.Width == 0 }));
        var state = (uint)Columns.Select(c => c.Key).ToList().IndexOf("state");
        var words = string.Join(',', Enum.GetValues<ReplyState>().Select(s => glossary.Of(s, language)));
        var last = Math.Max(1, sheet.Lines.Length) + 4 + headers;
        var choice = new DataValidations(new DataValidation(new Formula1($"\"{words}\""))
        {
            Type = DataValidationValues.List,
            AllowBlank = true,
            SequenceOfReferences = new ListValue<StringValue> { InnerText = string.Create(CultureInfo.InvariantCulture, $"{Letter(state)}{5 + headers}:{Letter(state)}{last}") },
        })
        { Count = 1 };
        var view = new SheetViews(new SheetView(new Pane { VerticalSplit = 4 + headers, TopLeftCell = string.Create(CultureInfo.InvariantCulture, $"A{5 + headers}"), ActivePane = PaneValues.BottomLeft, State = PaneStateValues.Frozen }) { WorkbookViewId = 0 });
        return new Worksheet(view, columns, rows, choice, new PageSetup { Orientation = OrientationValues.Landscape, FitToWidth = 1, FitToHeight = 0, PaperSize = 9 });
    }

    private static string Text(CorrectionLine line, string key, Glossary glossary, GlossaryLanguage? language) => key switch
    {
        "address" => line.Address.ToString(),
        "number" => line.Number.ToString(CultureInfo.InvariantCulture),
        "severity" => glossary.Of(line.Severity, language),
        "component" => glossary.Typed(line.Component, language),
        "side" => glossary.Typed(line.Side, language),
        "zone" => glossary.Typed(line.Zone, language),
        "what-is-wrong" => line.Words,
        "measured" => line.Measured,
        "limit" => line.Limit,
        "what-to-do" => glossary.WhatToDo(line, language),
        "by-when" => line.By is { } by ? Dates.Text(by) : "",
        "owner" => line.Owner,
        "state" => line.Reply is { } reply ? glossary.Of(reply.State, language) : "",
        "words" => line.Reply?.Words ?? "",
        "answered-by" => line.Reply?.By ?? "",
        "answered-on" => line.Reply?.On is { } on ? Dates.Text(on) : "",
        _ => throw new ArgumentOutOfRangeException(nameof(key), key, "The sheet has no such column."),
    };

    private static Row TextRow(int number, IEnumerable<(string Text, CellLook Look)> cells, bool hidden = false)
    {
        var row = new Row { RowIndex = (uint)number, Hidden = hidden };
        var column = 0u;
        foreach (var (text, look) in cells)
        {
            var reference = string.Create(CultureInfo.InvariantCulture, $"{Letter(column++)}{number}");
            row.Append(new Cell { CellReference = reference, StyleIndex = (uint)look, DataType = CellValues.InlineString, InlineString = new InlineString(new Text(Writable(text)) { Space = SpaceProcessingModeValues.Preserve }) });
        }

        return row;
    }

    /// <summary>XML takes no control characters, and a cell at most 32,767.</summary>
    private static string Writable(string text) => new([.. text.Where(c => c is '\n' or '\t' || !char.IsControl(c)).Take(32_000)]);

    private static ImmutableArray<(int Number, ImmutableDictionary<string, string> Cells)> Rows(byte[] content, string name)
    {
        CheckArchive(content, name);
        try
        {
            using var memory = new MemoryStream(content);
            using var document = SpreadsheetDocument.Open(memory, isEditable: false);
            var workbook = document.WorkbookPart ?? throw NoSheet(name);
            var shared = workbook.SharedStringTablePart?.SharedStringTable?.Elements<SharedStringItem>().Select(i => i.InnerText).ToImmutableArray() ?? [];
            var rows = workbook.WorksheetParts.SelectMany(p => p.Worksheet?.GetFirstChild<SheetData>()?.Elements<Row>() ?? []).Take(MostRows + 1).ToImmutableArray();
            return rows.Length <= MostRows
                ? [.. rows.Select((r, i) => ((int)(r.RowIndex?.Value ?? (uint)i + 1), r.Elements<Cell>().GroupBy(ColumnOf).ToImmutableDictionary(g => g.Key, g => Text(g.First(), shared))))]
                : throw new FaultsException(new Fault(name, $"has more than {MostRows} rows", "send back the sheet that was sent out"));
        }
        catch (Exception e) when (e is OpenXmlPackageException or InvalidDataException or FileFormatException or System.Xml.XmlException or FormatException or ArgumentException or InvalidOperationException or KeyNotFoundException)
        {
            throw NoSheet(name);
        }
    }

    /// <summary>An archive that would unpack to more than a sheet ever needs is refused before it is unpacked.</summary>
    private static void CheckArchive(byte[] content, string name)
    {
        if (content.Length > MostBytes)
        {
            throw new FaultsException(new Fault(name, $"has {content.Length >> 20} MiB", $"give a sheet of at most {MostBytes >> 20} MiB"));
        }

        try
        {
            using var zip = new ZipArchive(new MemoryStream(content), ZipArchiveMode.Read);
            if (zip.Entries.Count > 500 || zip.Entries.Sum(e => e.Length) > MostUnpacked)
            {
                throw new FaultsException(new Fault(name, "unpacks to more than a correction sheet holds", "send back the sheet that was sent out"));
            }
        }
        catch (InvalidDataException)
        {
            throw NoSheet(name);
        }
    }

    private static FaultsException NoSheet(string name) => new(new Fault(name, "is no .xlsx spreadsheet that can be read", "save the filled-in sheet as .xlsx"));

    private static string Text(Cell cell, ImmutableArray<string> shared)
    {
        var text = cell.InlineString?.InnerText ?? cell.CellValue?.Text ?? "";
        return cell.DataType?.Value == CellValues.SharedString && int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var index) && index < shared.Length ? shared[index] : text;
    }

    private static string ColumnOf(Cell cell) => new([.. (cell.CellReference?.Value ?? "").TakeWhile(char.IsLetter)]);

    private static string Letter(uint column) => ((char)('A' + column)).ToString();
}
