using System.Collections.Immutable;
using System.Linq.Expressions;
using Microsoft.EntityFrameworkCore;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Storage;

/// <content>What the examinations said of the reviews, kept so that comparing, trends and search need no examination.</content>
public sealed partial class ReviewShelf
{
    private const int MostWords = 10;

    private static readonly Expression<Func<ReviewRow, bool>> OnTheShelf = r => r.DeletedAt == null;

    public async Task NoteExaminedAsync(string id, long revision, Examined examined, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(examined);
        await using var db = new ShelfContext(_options);
        await using var transaction = await db.Database.BeginTransactionAsync(cancellation);
        var noted = await db.Reviews.Where(r => r.Id == id && r.Revision == revision)
            .ExecuteUpdateAsync(r => r.SetProperty(x => x.Verdict, (int)examined.Verdict.Word), cancellation);
        if (noted == 0)
        {
            return;
        }

        await db.Examined.Where(e => e.ReviewId == id).ExecuteDeleteAsync(cancellation);
        await db.Figures.Where(f => f.ReviewId == id).ExecuteDeleteAsync(cancellation);
        await db.Findings.Where(f => f.ReviewId == id).ExecuteDeleteAsync(cancellation);
        db.Examined.Add(new ExaminedRow { ReviewId = id, Revision = revision, Outcomes = OutcomeJson.Of(examined, null).ToJsonString() });
        db.Figures.AddRange(examined.Outcomes.SelectMany(o => o.Figures.Select(f => Row(id, o.Address.Of(f.Id).ToString(), f))));
        db.Findings.AddRange(examined.Outcomes.SelectMany(o => o.Findings.Select(f => Row(id, o.Address.Of(f.Id).ToString(), f))));
        await db.SaveChangesAsync(cancellation);
        await transaction.CommitAsync(cancellation);
    }

    public async Task<string?> OutcomesAsync(string id, CancellationToken cancellation = default)
    {
        await using var db = new ShelfContext(_options);
        return (await Noted(db).SingleOrDefaultAsync(e => e.ReviewId == id, cancellation))?.Outcomes;
    }

    public async Task<ImmutableDictionary<string, string>> OutcomesAsync(IReadOnlyCollection<string> ids, CancellationToken cancellation = default)
    {
        await using var db = new ShelfContext(_options);
        return (await Noted(db).Where(e => ids.Contains(e.ReviewId)).ToListAsync(cancellation)).ToImmutableDictionary(e => e.ReviewId, e => e.Outcomes, StringComparer.Ordinal);
    }

    public async Task<ImmutableArray<ShelfFigure>> FiguresAsync(FigureQuery query, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(query);
        await using var db = new ShelfContext(_options);
        var rows = await AsExamined(Of(db, query.Style, query.Factory))
            .Join(db.Figures.AsNoTracking().Where(f => f.Address == query.Address), r => r.Id, f => f.ReviewId, (r, f) => new { r, f })
            .OrderByDescending(x => x.r.BuildDate).ThenByDescending(x => x.r.ChangedAt).ThenByDescending(x => x.r.Id)
            .Take(Math.Max(0, query.Take))
            .ToListAsync(cancellation);
        return [.. rows.AsEnumerable().Reverse().Select(x => new ShelfFigure(Mark(x.r), x.f.Address, x.f.Label, x.f.Unit, x.f.Value, x.f.StandardUncertainty, x.f.Ruling is { } ruling ? (Ruling)ruling : null))];
    }

    public async Task<ImmutableArray<FigureName>> FigureNamesAsync(string style = "", CancellationToken cancellation = default)
    {
        await using var db = new ShelfContext(_options);
        var of = AsExamined(Of(db, style, "")).Join(db.Figures.AsNoTracking(), r => r.Id, f => f.ReviewId, (r, f) => f);
        var names = await of.GroupBy(f => new { f.Address, f.Unit }).Select(g => new { g.Key.Address, Label = g.Max(f => f.Label)!, g.Key.Unit }).OrderBy(n => n.Address).ToListAsync(cancellation);
        return [.. names.Select(n => new FigureName(n.Address, n.Label, n.Unit))];
    }

    public async Task<ImmutableArray<ShelfFinding>> FindingsAsync(FindingQuery query, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(query);
        await using var db = new ShelfContext(_options);
        var rows = await AsExamined(Of(db, query.Style, query.Factory))
            .Join(db.Findings.AsNoTracking(), r => r.Id, f => f.ReviewId, (r, f) => new { r, f })
            .OrderByDescending(x => x.r.BuildDate).ThenByDescending(x => x.r.ChangedAt).ThenByDescending(x => x.r.Id).ThenByDescending(x => x.f.Address)
            .Take(Math.Max(0, query.Take))
            .ToListAsync(cancellation);
        return [.. rows.AsEnumerable().Reverse().Select(x => new ShelfFinding(Mark(x.r), x.f.Address, x.f.Check, x.f.Component, x.f.Side, (Severity)x.f.Severity, x.f.Words, x.f.CarriedFrom))];
    }

    private static IQueryable<ReviewRow> Sought(ShelfContext db, ShelfQuery query)
    {
        var rows = Of(db, query.Style, query.Factory);
        foreach (var word in Words(query.Text))
        {
            rows = rows.Where(r => r.SearchText.Contains(word));
        }

        if (query.Size.Length > 0)
        {
            rows = rows.Where(r => r.Size == query.Size);
        }

        if (query.Tag.Length > 0)
        {
            var tag = $"\n{query.Tag.ToLowerInvariant()}\n";
            rows = rows.Where(r => r.Tags.Contains(tag));
        }

        if (Words(query.Finding) is { Length: > 0 } words)
        {
            var findings = db.Findings.AsNoTracking().AsQueryable();
            foreach (var word in words)
            {
                findings = findings.Where(f => f.SearchText.Contains(word));
            }

            // One look through the findings, not one for each review.
            var found = findings.Select(f => f.ReviewId);
            rows = AsExamined(rows.Where(r => found.Contains(r.Id)));
        }

        if (query.Figure is { } range)
        {
            var within = db.Figures.AsNoTracking().Where(f => f.Address == range.Address && f.Value >= range.Min && f.Value <= range.Max).Select(f => f.ReviewId);
            rows = AsExamined(rows.Where(r => within.Contains(r.Id)));
        }

        return rows;
    }

    private static IQueryable<ReviewRow> Of(ShelfContext db, string style, string factory)
    {
        var rows = db.Reviews.AsNoTracking().Where(OnTheShelf);
        rows = style.Length == 0 ? rows : rows.Where(r => r.Style == style);
        return factory.Length == 0 ? rows : rows.Where(r => r.Factory == factory);
    }

    /// <summary>What was noted of the latest revisions.</summary>
    private static IQueryable<ExaminedRow> Noted(ShelfContext db) => db.Reviews.AsNoTracking().Where(OnTheShelf)
        .Join(db.Examined.AsNoTracking(), r => new { r.Id, r.Revision }, e => new { Id = e.ReviewId, e.Revision }, (r, e) => e);

    /// <summary>Those whose latest revision was examined: figures and findings of an earlier one are past.</summary>
    private static IQueryable<ReviewRow> AsExamined(IQueryable<ReviewRow> rows) => rows.Where(r => r.Verdict != null);

    private static ImmutableArray<string> Words(string text) => [.. text.ToLowerInvariant().Split(' ', StringSplitOptions.RemoveEmptyEntries).Take(MostWords)];

    private static FigureRow Row(string id, string address, Figure figure) => new()
    {
        ReviewId = id,
        Address = address,
        Label = Listed(figure.Label),
        Unit = figure.Measured.Unit,
        Value = figure.Measured.Value,
        StandardUncertainty = figure.Measured.StandardUncertainty,
        Ruling = figure.Ruling is { } ruling ? (int)ruling : null,
    };

    private static FindingRow Row(string id, string address, Finding finding) => new()
    {
        ReviewId = id,
        Address = address,
        Check = Listed(finding.Check ?? ""),
        Component = Listed(finding.Component ?? ""),
        Side = finding.Side is { } side ? EnumWords.Of(side) : "",
        Severity = (int)finding.Severity,
        Words = Listed(finding.Words),
        CarriedFrom = Listed(finding.CarriedFrom ?? ""),
        SearchText = Listed($"{finding.Component} {finding.Check} {finding.Zone} {finding.Words}").ToLowerInvariant(),
    };

    private static ReviewMark Mark(ReviewRow row) => new(row.Id, row.Style, row.Build, row.Factory, row.Construction, Dates.Read(row.BuildDate));
}
