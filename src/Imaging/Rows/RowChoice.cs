using System.Collections.Immutable;

namespace Pairbench.Imaging.Rows;

/// <summary>Of rows that were found in one strip, the one that is told: the marks most alike, unless a network sees thread plainly along another; none where it sees none.</summary>
internal sealed class RowChoice(RowSight sight)
{
    /// <summary>
    /// How much likelier thread must be seen than not at a mark, on average over the row (natural logarithm). Of 260 drawn rows (311000 to 311259 of
    /// benchmarks/Seams) the least of one that is rightly told is 2.01.
    /// </summary>
    private const double LeastSeen = 1.6;

    /// <summary>And in all: a few lumps of coarse grain lie in a row now and then.</summary>
    private const double LeastInAll = 12;

    /// <summary>A row that explains so much is told even where the network would not know its thread.</summary>
    private const double PlainlySeen = 0.3;

    /// <summary>Natural logarithm of the odds at the usual mark, below which the network sees something else than thread.</summary>
    private const double NoThread = -2;

    /// <summary>Where so many marks alike lie in steps so steady and explain so much, it is no chance: grain that is followed by likeness explains less, in steps less steady.</summary>
    private const int ManyMarks = 20;
    private const double SteadyJitter = 0.06;
    private const double SteadyExplains = 0.055;

    /// <summary>How much likelier another row must be than that of the marks most alike, and how much fainter its marks may be (natural logarithm).</summary>
    private const double Margin = 4;
    private const double Fainter = 0.3;

    /// <summary>Standard deviation of its steps over the pitch that another row may have at most: those of a wrong pitch are less steady.</summary>
    private const double MostJitter = 0.13;

    /// <summary>How much fainter than usual (natural logarithm) a mark may be that one row has and the other has not, to be taken over.</summary>
    private const double FainterThanUsual = 0.4;

    /// <summary>Two rows are one and the same where so many marks of one lie so near (in pitches) to marks of the other, at such pitches.</summary>
    private const double MostAlike = 0.85;
    private const double Near = 0.3;
    private const double OfPitch = 0.02;

    /// <summary>How far aside of a mark its middle may be seen, in mm.</summary>
    private const double InLine = 0.5;

    /// <summary>How far from the end of a path, in pitches, the last stitch may lie.</summary>
    private const double AboutEnd = 0.25;

    /// <summary>Of a pitch, below which two marks are one.</summary>
    private const double LeastApart = 0.4;

    /// <summary>How much likelier than a skipped stitch (natural logarithm).</summary>
    private const double NotSkipped = 1;

    /// <param name="best">Of the marks most alike.</param>
    /// <param name="others">Rows that hardly stand out, and what the network sees.</param>
    /// <returns>Null where no row stands out and thread is seen along none.</returns>
    public FoundRow? Of(FoundRow? best, IReadOnlyList<FoundRow> others) =>
        others.OrderByDescending(sight.LogOdds)
            .Prepend(Likeliest(best, others))
            .OfType<FoundRow>()
            .FirstOrDefault(IsToldAtAll);

    /// <summary>The row of the marks most alike, unless another is likelier, and likelier than what the network sees of that same row.</summary>
    private FoundRow? Likeliest(FoundRow? best, IReadOnlyList<FoundRow> others)
    {
        if (best is null)
        {
            return others.MaxBy(sight.Worth);
        }

        var inPhase = InPhase(best);
        var first = others.OrderByDescending(sight.Worth).FirstOrDefault(r => IsSame(r, inPhase) || IsLikelier(r, inPhase));
        return first is null || IsSame(first, inPhase) ? best : first;
    }

    /// <summary>A row with its marks at the middles that the network sees: what repeats can be cut anywhere.</summary>
    private FoundRow InPhase(FoundRow row) => sight.MiddlesFrom(row) is var shift && shift == 0 ? row : row with { Marks = [.. row.Marks.Select(m => m with { Along = m.Along + shift })] };

    /// <summary>Marks of a row, with those that the same row seen by the network has besides, as plain as usual.</summary>
    public ImmutableArray<RowMark> Joined(FoundRow row, FoundRow seen)
    {
        var usual = sight.Usual(row);
        var more = usual < 0 || Math.Abs((seen.Pitch / row.Pitch) - 1) > OfPitch
            ? []
            : seen.Marks.Where(m => row.Marks.All(r => Math.Abs(r.Along - m.Along) > (1 - Near) * row.Pitch) && sight.At(m, row.Pitch) > usual - FainterThanUsual).ToArray();
        if (more.Length == 0)
        {
            return row.Marks;
        }

        var joined = row.Marks.Concat(more).OrderBy(m => m.Along).ToArray();
        return [.. joined.Select((m, i) => m with { Before = i == 0 ? 0 : Math.Max(1, (int)Math.Round((m.Along - joined[i - 1].Along) / row.Pitch)) })];
    }

    /// <summary>The middles of stitches beyond the last mark of a row that are likely to go on with it, and surely not those of skipped ones; pitches before each.</summary>
    /// <param name="peaks">Middles that the networks see, in order along.</param>
    /// <param name="length">Of the path, in mm: so far stitches are expected.</param>
    public ImmutableArray<(SeenRow.Peak Peak, int Before)> Beyond(FoundRow row, ImmutableArray<SeenRow.Peak> peaks, double length) =>
        SeenRow.From(Middle(row.Marks[^1], row.Pitch, peaks), [.. peaks.Where(p => IsBeyond(p.Along - row.Marks[^1].Along, row) && IsStitch(p, row))], row.Pitch, row.Jitter, length + (AboutEnd * row.Pitch));

    /// <summary>Those before the first mark, from the nearest on.</summary>
    public ImmutableArray<(SeenRow.Peak Peak, int Before)> Ahead(FoundRow row, ImmutableArray<SeenRow.Peak> peaks) =>
        [.. SeenRow.From(Back(Middle(row.Marks[0], row.Pitch, peaks)), [.. peaks.Where(p => IsBeyond(row.Marks[0].Along - p.Along, row) && IsStitch(p, row)).Select(Back).Reverse()], row.Pitch, row.Jitter, AboutEnd * row.Pitch).Select(m => (Back(m.Peak), m.Before))];

    /// <summary>Where the networks see the middle of a mark, or where it is.</summary>
    private static SeenRow.Peak Middle(RowMark mark, double pitch, ImmutableArray<SeenRow.Peak> peaks) => peaks
        .Where(p => Math.Abs(p.Along - mark.Along) < Near * pitch && Math.Abs(p.Across - mark.Across) < InLine)
        .OrderByDescending(p => p.LogOdds)
        .FirstOrDefault(new SeenRow.Peak(mark.Along, mark.Across, 0));

    private static SeenRow.Peak Back(SeenRow.Peak peak) => peak with { Along = -peak.Along };

    private static bool IsBeyond(double along, FoundRow row) => along > (1 - Near) * row.Pitch;

    private bool IsStitch(SeenRow.Peak peak, FoundRow row) => peak.LogOdds - sight.BareAt(row.Marks[0] with { Along = peak.Along, Across = peak.Across }, row.Pitch) > NotSkipped;

    private bool IsToldAtAll(FoundRow row) => row.Explained > RowFinder.HardlySeen
        ? row.Explained > PlainlySeen || sight.Usual(row) > NoThread
        : IsSteady(row) || sight.LogOdds(row) >= Math.Max(LeastInAll, LeastSeen * row.Marks.Length);

    private static bool IsSteady(FoundRow row) => row.Marks.Length >= ManyMarks && row.Jitter < SteadyJitter && row.Explained > SteadyExplains;

    /// <summary>The same row, with a mark more or fewer.</summary>
    private static bool IsSame(FoundRow one, FoundRow other)
    {
        static int Places(FoundRow row) => row.Marks.Length + row.Missing;
        var alike = one.Marks.Count(m => other.Marks.Any(o => Math.Abs(o.Along - m.Along) < Near * other.Pitch));
        return alike >= MostAlike * one.Marks.Length && Math.Abs(Places(one) - Places(other)) <= 1 && Math.Abs((one.Pitch / other.Pitch) - 1) < OfPitch;
    }

    /// <summary>A row of which the network sees more.</summary>
    private bool IsLikelier(FoundRow one, FoundRow other) =>
        one.Jitter < MostJitter && sight.Worth(one) > sight.Worth(other) + Margin && sight.Usual(one) > sight.Usual(other) - Fainter;

    /// <summary>The marks of a row without the fainter of two that lie so near to each other that they are one.</summary>
    public ImmutableArray<RowMark> Apart(FoundRow row)
    {
        var marks = new List<RowMark>();
        foreach (var mark in row.Marks)
        {
            if (marks.Count == 0 || mark.Along - marks[^1].Along >= LeastApart * row.Pitch)
            {
                marks.Add(mark);
            }
            else if (sight.At(mark, 0) > sight.At(marks[^1], 0))
            {
                marks[^1] = mark with { Before = marks[^1].Before };
            }
        }

        return [.. marks];
    }
}
