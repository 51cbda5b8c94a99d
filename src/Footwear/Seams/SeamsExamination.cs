using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Rows;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Seams;

/// <summary>Rows of stitches: pitch, variation, skipped and long stitches, wander, margin to the panel edge, distance of twin rows.</summary>
public sealed class SeamsExamination : Examination<SeamsEvidence>
{
    /// <summary>Coarser pictures than this hide the gap between short stitches.</summary>
    private const double CoarsePixelMm = 0.2;

    public override string Name => "seams";

    public override string Title => "Seams";

    public override int Order => 220;

    public override bool LooksAtSubject => false;

    public override Outcome Examine(SeamsEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var (photo, mapping) = evidence.Photo.Open(surroundings.Photos, "photo");
        SeamChecks.Marks(evidence, photo.Size, mapping);
        cancellation.ThrowIfCancellationRequested();
        var picture = photo.Decode();
        var rows = new List<MeasuredRow>();
        var notSeen = new List<NotSeen>();
        var cautions = new List<string>();
        foreach (var row in evidence.Rows)
        {
            cancellation.ThrowIfCancellationRequested();
            if (RowFinder.Find(picture, mapping, row.Path, row.PitchMm) is not { } found)
            {
                notSeen.Add(new NotSeen($"{row.Id}.row", $"{row.Id}: nothing that repeats was found along the path. Light it from the side, photograph it from nearer, and draw the path within 1.5 mm of the row.", true));
                continue;
            }

            rows.Add(new MeasuredRow(row, found, mapping, evidence.Photo, surroundings.Entry));
            notSeen.AddRange(rows[^1].NotSeen());
            if (!rows[^1].IsPlain)
            {
                cautions.Add($"{row.Id}: the stitches hardly stand out from their ground; look at the plate before you trust the count, and light the row from the side.");
            }
        }

        var pixel = Math.Sqrt(mapping.AreaOfPixel(evidence.Rows[0].Path[0]));
        if (pixel > CoarsePixelMm)
        {
            cautions.Add(string.Create(CultureInfo.InvariantCulture, $"A pixel is {pixel:0.00} mm: photograph from nearer, so that it is 0.1 mm or less."));
        }

        ImmutableArray<MeasuredRow> found_ = [.. rows];
        return new Outcome
        {
            Figures = [.. found_.SelectMany(r => r.Figures().Concat(Twin(r, found_)))],
            Findings = [.. found_.SelectMany(r => Findings(r, evidence.Photo.File, new EntryAddress(Name, surroundings.Entry)))],
            Tables = [Stitches(found_)],
            Plates = found_.IsEmpty ? [] : [SeamPlates.Rows(photo, found_)],
            NotSeen = [.. notSeen],
            Assumptions = [.. mapping.Assumptions, .. Assumptions(evidence)],
            Cautions = [.. cautions],
            Basis =
            [
                new Basis(BasisKind.Standard, "JCGM 100, Guide to the expression of uncertainty in measurement", "2008"),
                new Basis(BasisKind.Practice, "a gap of about two pitches is a skipped stitch; pitch 25.4/per inch = 10/per cm; common practice, no source"),
            ],
        };
    }

    private static IEnumerable<Figure> Twin(MeasuredRow row, ImmutableArray<MeasuredRow> all) =>
        row.Row.Twin is { } id && all.FirstOrDefault(r => r.Row.Id == id) is { } twin ? row.Between(twin) : [];

    private static IEnumerable<Finding> Findings(MeasuredRow row, string photo, EntryAddress own)
    {
        var number = 0;
        foreach (var (stretch, skipped) in row.Skipped.Select(s => (s, true)).Concat(row.Long.Select(s => (s, false))))
        {
            number++;
            var (a, b) = (row.Found.Marks[stretch.From], row.Found.Marks[stretch.To]);
            var words = skipped
                ? string.Create(CultureInfo.InvariantCulture, $"{row.Row.Id}: {(b.Before == 2 ? "a stitch is" : $"{b.Before - 1} stitches are")} skipped after stitch {stretch.From + 1}; the gap is {stretch.LengthMm:0.0} mm at a pitch of {row.Found.Pitch:0.00} mm")
                : string.Create(CultureInfo.InvariantCulture, $"{row.Row.Id}: stitch {stretch.From + 1} to {stretch.To + 1} is long, {stretch.LengthMm:0.0} mm at a pitch of {row.Found.Pitch:0.00} mm");
            yield return new Finding($"{row.Row.Id}-{(skipped ? "skipped" : "long")}-{number}", Severity.Minor, words)
            {
                Component = row.Row.Component,
                Side = row.Row.Side,
                Photo = photo,
                Mark = Mark(a.Pixel, b.Pixel),
                Figure = own.Of($"{row.Row.Id}.{(skipped ? "skipped" : "long")}"),
                Correction = skipped ? "Check hook timing, needle size and point against the thread; sew the row anew." : null,
            };
        }
    }

    private static JsonElement Mark(PixelPoint a, PixelPoint b) =>
        JsonSerializer.SerializeToElement(new Dictionary<string, double[][]> { ["path"] = [[Math.Round(a.X, 1), Math.Round(a.Y, 1)], [Math.Round(b.X, 1), Math.Round(b.Y, 1)]] });

    /// <summary>Every row with its distances and places, in the order of its path.</summary>
    private static Table Stitches(ImmutableArray<MeasuredRow> rows) => new(
        "stitches",
        "Stitches as found",
        [new("row", "Row"), new("distances", "From stitch to stitch, mm"), new("pixels", "Middles in the photograph, px")],
        [.. rows.Select(r => ImmutableArray.Create<Cell>(
            r.Row.Id,
            string.Join("; ", r.Distances.Select(d => d.ToString("0.00", CultureInfo.InvariantCulture))),
            new Cell.Places([.. r.Found.Marks.Select(m => m.Pixel)], 1)))]);

    private static IEnumerable<string> Assumptions(SeamsEvidence evidence)
    {
        if (evidence.Photo.Scale is BarScale)
        {
            yield return "A ruler is never quite in the seam's plane: 0.8 % of each length is taken as standard uncertainty for it (12 degrees make 2 %); lay the ruler on the upper beside the row.";
        }

        yield return "Stitches are counted within the drawn path and half a pitch beyond its ends.";
        yield return "The smooth row is a curve with a knot every 40 mm: swings shorter than about 65 mm are wander, longer ones are the shape of the seam.";
    }
}
