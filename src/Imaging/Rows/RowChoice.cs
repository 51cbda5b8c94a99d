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

    /// <summary>Natural logarithm of the odds of a middle from which a row goes on to it, and how far aside of the end it may lie, in mm.</summary>
    private const double FaintlySeen = -1;
    private const double InLine = 0.4;

    /// <summary>How much likelier than a skipped stitch (natural logarithm).</summary>
    private const double NotSkipped = 1;

    /// <param name="best">Of the marks most alike.</param>
    /// <param name="others">Rows that hardly stand out, and what the network sees.</param>
    /// <returns>Null where no row stands out and thread is seen along none.</returns>
    public FoundRow? Of(FoundRow? best, IReadOnlyList<FoundRow> others) =>
        others.OrderByDescending(sight.LogOdds)
            .Prepend(others.Where(r => best is null || IsLikelier(r, best)).MaxBy(sight.Worth) ?? best)
            .OfType<FoundRow>()
            .FirstOrDefault(IsToldAtAll);

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

    /// <summary>The middle of a stitch a pitch beyond one end of a row, where one is seen in its line, if only faintly, and surely not that of a skipped one.</summary>
    /// <param name="by">A pitch on from the last mark, or back from the first.</param>
    /// <param name="peaks">Middles that the networks see.</param>
    public SeenRow.Peak? Beyond(RowMark end, double by, ImmutableArray<SeenRow.Peak> peaks) => peaks
        .Where(p => p.LogOdds > FaintlySeen && p.LogOdds - sight.BareAt(end with { Along = p.Along, Across = p.Across }, Math.Abs(by)) > NotSkipped && Math.Abs(p.Along - end.Along - by) < Near * Math.Abs(by) && Math.Abs(p.Across - end.Across) < InLine)
        .OrderByDescending(p => p.LogOdds)
        .Select(p => (SeenRow.Peak?)p)
        .FirstOrDefault();

    private bool IsToldAtAll(FoundRow row) => row.Explained > RowFinder.HardlySeen
        ? row.Explained > PlainlySeen || sight.Usual(row) > NoThread
        : IsSteady(row) || sight.LogOdds(row) >= Math.Max(LeastInAll, LeastSeen * row.Marks.Length);

    private static bool IsSteady(FoundRow row) => row.Marks.Length >= ManyMarks && row.Jitter < SteadyJitter && row.Explained > SteadyExplains;

    /// <summary>Another row, and not the same one with a mark more or fewer, of which the network sees more.</summary>
    private bool IsLikelier(FoundRow one, FoundRow other)
    {
        static int Places(FoundRow row) => row.Marks.Length + row.Missing;
        var alike = one.Marks.Count(m => other.Marks.Any(o => Math.Abs(o.Along - m.Along) < Near * other.Pitch));
        var same = alike >= MostAlike * one.Marks.Length && Math.Abs(Places(one) - Places(other)) <= 1 && Math.Abs((one.Pitch / other.Pitch) - 1) < OfPitch;
        return !same && one.Jitter < MostJitter && sight.Worth(one) > sight.Worth(other) + Margin && sight.Usual(one) > sight.Usual(other) - Fainter;
    }
}
