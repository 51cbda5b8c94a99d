using System.Collections.Immutable;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// A row told from what a network sees of single marks, where they are not alike enough to be found by likeness: the likeliest chain of peaks, each of which adds its
/// evidence; steps along cost what they differ from a pitch, steps aside what a row is unlikely to swing, each missing mark what a missing one is unlikely.
/// </summary>
internal static class SeenRow
{
    private const int MostMissing = 3;
    public const double MissingCost = 3.2;
    private const double FurtherMissingCost = 2.2;
    private const double PitchRatio = 1.025;
    private const double FirstJitter = 0.08;
    private const double LeastJitter = 0.03;
    private const double MostJitter = 0.12;

    /// <summary>How far a mark lies to the side of its neighbour, standard deviation in mm.</summary>
    private const double Sway = 0.25;

    /// <summary>What it costs to lie so many mm off the path, squared.</summary>
    private const double Aside = 2.2;

    private const int LeastMarks = 4;

    /// <summary>How much likelier a mark lies a pitch from another on the line of a row than anywhere.</summary>
    private const double OnARow = 2;
    private const double MostEvidence = 5;

    /// <summary>Evidence of the mark from which a chain has to go on: more than all others of a path are worth.</summary>
    private const double Certain = 1e6;

    /// <summary>How much likelier a mark is where a row is expected to go on (natural logarithm).</summary>
    private const double Expected = 1.5;

    /// <summary>A place at which a mark may be.</summary>
    /// <param name="Along">In mm along the guide.</param>
    /// <param name="Across">In mm off it.</param>
    /// <param name="LogOdds">Natural logarithm of the odds that a mark is there, wherever a row may run.</param>
    public readonly record struct Peak(double Along, double Across, double LogOdds);

    /// <param name="From">Index of the peak before, or -1.</param>
    /// <param name="Steps">Pitches since.</param>
    private readonly record struct Link(int From, int Steps);

    /// <summary>The likeliest chain; empty where there is none.</summary>
    /// <param name="peaks">In order along.</param>
    public static ImmutableArray<(Peak Peak, int Before)> Of(ImmutableArray<Peak> peaks, double least, double most)
    {
        var best = (Marks: ImmutableArray<(Peak Peak, int Before)>.Empty, Score: 0.0);
        for (var pitch = least; pitch <= most * PitchRatio; pitch *= PitchRatio)
        {
            var chain = Chain(peaks, p => Evidence(p.LogOdds), pitch, FirstJitter);
            if (chain.Score > best.Score && chain.Marks.Length >= LeastMarks)
            {
                best = chain;
            }
        }

        for (var turn = 0; turn < 2 && best.Marks.Length >= LeastMarks; turn++)
        {
            var (pitch, jitter) = Steps(best.Marks);
            var odds = BareOdds.Of([.. best.Marks.Select(m => m.Peak.LogOdds)]);
            best = Chain(peaks, p => Math.Min(MostEvidence, OnARow + odds.Thread(p.LogOdds)), pitch, Math.Clamp(jitter, LeastJitter, MostJitter));
        }

        return best.Marks.Length >= LeastMarks ? best.Marks : [];
    }

    /// <summary>The likeliest chain that goes on from the last mark of a row, without that; empty where none is likelier than nothing.</summary>
    /// <param name="peaks">In order along, all beyond that mark.</param>
    /// <param name="pitch">In mm.</param>
    /// <param name="jitter">Standard deviation of a distance between neighbours over the pitch.</param>
    /// <param name="expected">So far along a row is expected to go on, in mm.</param>
    public static ImmutableArray<(Peak Peak, int Before)> From(Peak last, ImmutableArray<Peak> peaks, double pitch, double jitter, double expected) =>
        Chain([last, .. peaks], p => p == last ? Certain : Evidence(p.LogOdds) + (p.Along < expected ? Expected : 0), pitch, Math.Clamp(jitter, FirstJitter, MostJitter)).Marks[1..];

    /// <summary>How much likelier a mark of a row is there than none (natural logarithm).</summary>
    public static double Evidence(double logOdds) => Math.Min(MostEvidence, OnARow + logOdds);

    /// <summary>How much likelier the marks of a chain are there than not, measured as those of a chain that is looked for.</summary>
    public static double Worth(ImmutableArray<(Peak Peak, int Before)> marks)
    {
        var (pitch, jitter) = Steps(marks);
        jitter = Math.Clamp(jitter, LeastJitter, MostJitter);
        return marks.Sum(m => Evidence(m.Peak.LogOdds) - Off(m.Peak)) + marks.Zip(marks.Skip(1)).Sum(p => Step(p.First.Peak, p.Second.Peak, p.Second.Before, pitch, jitter));
    }

    private static double Off(Peak peak) => peak.Across * peak.Across / (2 * Aside * Aside);

    private static double Step(Peak from, Peak to, int steps, double pitch, double jitter)
    {
        var along = (to.Along - from.Along - (steps * pitch)) / (jitter * pitch * Math.Sqrt(steps));
        var aside = (to.Across - from.Across) / (Sway * Math.Sqrt(steps));
        var missing = steps == 1 ? 0 : MissingCost + ((steps - 2) * FurtherMissingCost);
        return -missing - (2.5 * Math.Log((1 + (along * along / 5)) * (1 + (aside * aside / 5))));
    }

    private static (double Pitch, double Jitter) Steps(ImmutableArray<(Peak Peak, int Before)> marks)
    {
        var single = marks.Zip(marks.Skip(1)).Where(p => p.Second.Before == 1).Select(p => p.Second.Peak.Along - p.First.Peak.Along).ToArray();
        var pitch = (marks[^1].Peak.Along - marks[0].Peak.Along) / marks.Sum(m => m.Before);
        return (pitch, single.Length < 3 ? FirstJitter : Math.Sqrt(single.Sum(s => Math.Pow((s / pitch) - 1, 2)) / (single.Length - 1)));
    }

    private static (ImmutableArray<(Peak Peak, int Before)> Marks, double Score) Chain(ImmutableArray<Peak> peaks, Func<Peak, double> evidence, double pitch, double jitter)
    {
        var best = new double[peaks.Length];
        var came = new Link[peaks.Length];
        var last = -1;
        for (var i = 0; i < peaks.Length; i++)
        {
            var own = evidence(peaks[i]) - Off(peaks[i]);
            (best[i], came[i]) = (own, new Link(-1, 0));
            for (var k = i - 1; k >= 0 && peaks[i].Along - peaks[k].Along < (MostMissing + 1.45) * pitch; k--)
            {
                var steps = (int)Math.Round((peaks[i].Along - peaks[k].Along) / pitch);
                if (steps < 1)
                {
                    continue;
                }

                var score = best[k] + own + Step(peaks[k], peaks[i], steps, pitch, jitter);
                if (score > best[i])
                {
                    (best[i], came[i]) = (score, new Link(k, steps));
                }
            }

            last = last < 0 || best[i] > best[last] ? i : last;
        }

        var marks = new List<(Peak, int)>();
        for (var i = last; i >= 0; i = came[i].From)
        {
            marks.Add((peaks[i], came[i].Steps));
        }

        marks.Reverse();
        return ([.. marks], last < 0 ? 0 : best[last]);
    }
}
