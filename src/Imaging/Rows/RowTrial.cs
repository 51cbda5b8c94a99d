using System.Collections.Immutable;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Rows;

/// <summary>One pitch tried on a strip.</summary>
/// <param name="planes">The picture.</param>
/// <param name="evened">The picture with the ground evened.</param>
/// <param name="source">Of the two, that from which marks are learnt.</param>
/// <param name="centreAt">For a pitch, the offset of the row's middle from the guide at a position along.</param>
internal sealed class RowTrial(IRowPlanes planes, IRowPlanes evened, IPlaneMap map, GuideCurve guide, IRowPlanes source, Func<double, Func<double, double>> centreAt)
{
    private const int StepsOfPitch = 24;
    private const double AcrossStep = 0.1;
    private const int Inner = 17;
    private const int InnerOfCut = 13;
    private const int Beside = 10;
    private const int MostAside = 9;
    private const int Rounds = 4;
    private const int Seeds = 30;
    private const int LeastMarks = 4;
    private const double Blur = 0.16;
    private const double WorthFollowing = 0.35;

    /// <summary>What the noise of a mean of few may hide before the middle is known well.</summary>
    private const double OfItsOwnNoise = 0.8;

    private const double MostMissing = 0.35;
    private const double MostChange = 0.25;
    private const double MostJitter = 0.155;

    /// <param name="explained">What the best pitch so far explains: one that begins far below it is not followed.</param>
    /// <returns>Null where the pitch leads to no row.</returns>
    public FoundRow? Of(double pitch, double explained)
    {
        var first = Strip(centreAt(pitch), pitch);
        if (Seed(first.Relief, first.Room) is not { } seed)
        {
            return null;
        }

        var learnt = Learn(first.Relief, SeedAt(first.Relief, seed), first.Room, Rounds, 0.09);
        if (learnt.Chain.Length < LeastMarks || Explained(first.EvenRelief, learnt.Chain, Inner) < (WorthFollowing * explained) - (OfItsOwnNoise / learnt.Chain.Length))
        {
            return null;
        }

        // What was found tells where the row runs and what its pitch is better than likeness did, above all at its ends: twice, so that more ends are reached.
        var second = first;
        for (var pass = 0; pass < 2 && learnt.Chain.Length >= LeastMarks; pass++)
        {
            var rough = Refined(second, learnt with { Chain = Ends(second, learnt) });
            pitch = Math.Abs((rough.Pitch / pitch) - 1) < MostChange ? rough.Pitch : pitch;
            second = Strip(RowCentre.Through(rough.Marks), pitch);
            learnt = Learn(second.Relief, MarkTemplate.Mean(second.Relief, [.. rough.Marks.Select(m => (second.Index(m.Along), 1.0))], Half, Inner), second.Room, 2, learnt.Jitter);
        }

        var plain = second.Of(planes);
        for (var turn = 0; turn < 2 && learnt.Chain.Length >= LeastMarks; turn++)
        {
            var shift = RowPhase.ToMiddle(plain, learnt.Chain, StepsOfPitch, RowCut.Likely(second.EvenRelief, learnt.Chain, StepsOfPitch, InnerOfCut));
            if (shift != 0)
            {
                learnt = Learn(second.Relief, MarkTemplate.Mean(second.Relief, [.. learnt.Chain.Select(p => (p.Index + shift, 1.0))], Half, Inner), second.Room, 2, learnt.Jitter);
            }
        }

        if (learnt.Chain.Length < LeastMarks || Jitter(learnt.Chain) > MostJitter)
        {
            return null;
        }

        learnt = learnt with { Chain = Ends(second, learnt) };
        var found = Refined(second, learnt with { Chain = EmptyPlaces.Without(second.Even, learnt.Chain, StepsOfPitch) });
        return Math.Abs((found.Pitch / pitch) - 1) < 0.12 && found.Marks.Length >= LeastMarks && found.Missing <= MostMissing * found.Marks.Length ? found : null;
    }

    /// <summary>The row through marks that were found otherwise: each is moved to where it is most like the others.</summary>
    public FoundRow Through(double pitch, ImmutableArray<RowMark> marks)
    {
        var straight = Strip(centreAt(pitch), pitch);
        ImmutableArray<ChainPlace> chain = [.. marks.Select(m => new ChainPlace(Math.Clamp(straight.Index(m.Along), 0, straight.Even.Count - 1), m.Before))];
        var template = MarkTemplate.Mean(straight.Relief, [.. chain.Select(p => (p.Index, 1.0))], Half, Inner);
        return Refined(straight, new Learnt(template, template.Along(straight.Relief, 4), chain, 0, Jitter(chain)));
    }

    /// <summary>How much likelier each place is of the look of the marks of a row than bare (natural logarithm).</summary>
    public ImmutableArray<double> ThreadOdds(FoundRow row, ImmutableArray<RowMark> places)
    {
        var straight = Strip(centreAt(row.Pitch), row.Pitch);
        int Index(RowMark mark) => Math.Clamp(straight.Index(mark.Along), 0, straight.Even.Count - 1);
        return EmptyPlaces.Odds(straight.Even, [.. row.Marks.Select(m => new ChainPlace(Index(m), m.Before))], [.. places.Select(Index)], StepsOfPitch);
    }

    private static ImmutableArray<ChainPlace> Ends(Straight straight, Learnt learnt) => RowEnds.With(straight.EvenRelief, learnt.Chain, StepsOfPitch, Math.Max(0.06, learnt.Jitter), straight.Room);

    /// <summary>A strip about a centre, with the steps at which marks may lie.</summary>
    private Straight Strip(Func<double, double> centre, double pitch)
    {
        var step = pitch / StepsOfPitch;
        var beyond = Math.Max(pitch * 1.2, 2);
        var along = (-beyond, guide.Length + beyond, step);
        RowStrip Of(IRowPlanes of) => RowStrip.Of(of, guide, centre, along, ((Inner / 2) + MostAside) * AcrossStep, AcrossStep);
        var even = Of(evened);
        var evenRelief = Relief.Of(even, 12, Blur);
        var relief = (source == evened ? evenRelief : Relief.Of(Of(planes), 12, 0.09)).Favouring(StepsOfPitch);
        return new Straight(Of, relief, even, evenRelief, centre, ((int)Math.Round((beyond - (0.5 * pitch)) / step), (int)Math.Round((guide.Length + (0.5 * pitch) + beyond) / step)));
    }

    private sealed record Straight(Func<IRowPlanes, RowStrip> Of, Relief Relief, RowStrip Even, Relief EvenRelief, Func<double, double> Centre, (int First, int Last) Room)
    {
        public int Index(double along) => (int)Math.Round((along - Even.From) / Even.Step);
    }

    private static int Half => (int)Math.Round(0.55 * StepsOfPitch);

    private sealed record Learnt(MarkTemplate Template, double[] Likeness, ImmutableArray<ChainPlace> Chain, double Score, double Jitter);

    /// <summary>The stretch that is most like the others, in the profile that repeats most.</summary>
    private static int? Seed(Relief relief, (int First, int Last) room)
    {
        var best = (Score: double.NegativeInfinity, At: (int?)null);
        for (var k = 0; k < Seeds; k++)
        {
            var at = room.First + ((room.Last - room.First) * (k + 1) / (Seeds + 1)) + (k * 7 % StepsOfPitch) - (StepsOfPitch / 2);
            if (at - Half < 0 || at + Half >= relief.Count)
            {
                continue;
            }

            var template = SeedAt(relief, at);
            var along = template.Along(relief, 0);
            var (sum, bins) = (0.0, 0);
            for (var bin = room.First; bin + StepsOfPitch <= room.Last; bin += StepsOfPitch)
            {
                if (Math.Abs(bin + (StepsOfPitch / 2) - at) > 2 * StepsOfPitch)
                {
                    sum += Math.Min(0.8, along.AsSpan(Math.Max(0, bin), StepsOfPitch).ToArray().Max()) * Math.Sqrt(template.Energy);
                    bins++;
                }
            }

            if (bins > 0 && sum / bins > best.Score)
            {
                best = (sum / bins, at);
            }
        }

        return best.At;
    }

    /// <summary>A stretch with its two neighbours, which are alike but for jitter and together less noisy.</summary>
    private static MarkTemplate SeedAt(Relief relief, int at) => MarkTemplate.Mean(relief, [(at - StepsOfPitch, 0.7), (at, 1), (at + StepsOfPitch, 0.7)], Half, Inner);

    private static Learnt Learn(Relief relief, MarkTemplate template, (int First, int Last) room, int rounds, double jitter)
    {
        Learnt? learnt = null;
        for (var round = 0; round < rounds; round++)
        {
            var likeness = template.Along(relief, round == 0 ? 0 : 4);
            var size = learnt is null ? First(likeness, room) : 1;
            var spread = learnt is null ? 0.3 : Spread(likeness, learnt.Chain);
            var evidence = likeness.Select(m => Math.Clamp(((m / size) - 0.5) / Math.Max(0.06, spread * spread), -8, 8)).ToArray();
            var (chain, score) = MarkChain.Of(evidence, StepsOfPitch, jitter, room.First, room.Last);
            if (chain.Length < 4)
            {
                return new Learnt(template, likeness, chain, score, jitter);
            }

            jitter = Math.Clamp(Jitter(chain), 0.04, 0.12);
            template = MarkTemplate.Mean(relief, [.. chain.Select(p => (p.Index, Math.Clamp(likeness[p.Index] / size, 0.1, 1)))], Half, Inner);
            learnt = new Learnt(template, likeness, chain, score, jitter);
        }

        return learnt!;
    }

    /// <summary>What a seed of one stretch, noise and all, scores on the others: their likeness is below one.</summary>
    private static double First(double[] likeness, (int First, int Last) room)
    {
        var peaks = new List<double>();
        for (var bin = Math.Max(0, room.First); bin + StepsOfPitch <= Math.Min(room.Last, likeness.Length); bin += StepsOfPitch)
        {
            peaks.Add(likeness.AsSpan(bin, StepsOfPitch).ToArray().Max());
        }

        peaks.Sort();
        return peaks.Count == 0 ? 1 : Math.Clamp(peaks[peaks.Count / 2], 0.1, 1);
    }

    private static double Spread(double[] likeness, ImmutableArray<ChainPlace> chain)
    {
        var values = chain.Select(p => likeness[p.Index]).Order().ToArray();
        var middle = values[values.Length / 2];
        var away = values.Select(v => Math.Abs(v - middle)).Order().ToArray();
        return 1.48 * away[away.Length / 2];
    }

    private static double Jitter(ImmutableArray<ChainPlace> chain)
    {
        var steps = chain.Zip(chain.Skip(1)).Where(p => p.Second.Before == 1).Select(p => (p.Second.Index - p.First.Index) / (double)StepsOfPitch).ToArray();
        return steps.Length < 3 ? 0.09 : Math.Sqrt(steps.Sum(s => Math.Pow(s - steps.Average(), 2)) / (steps.Length - 1));
    }

    private FoundRow Refined(Straight straight, Learnt learnt)
    {
        var (_, relief, strip, even, centre, _) = straight;
        var template = learnt.Template;
        var middle = template.CentreAcross() * AcrossStep;
        var marks = new List<RowMark>();
        var along = new List<double>();
        foreach (var place in learnt.Chain)
        {
            var (ahead, aside) = Nearest(template, relief, place.Index);
            double At(int d, int a) => template.At(relief, place.Index + d, a);
            var across = aside + Peak(At(ahead, aside - 1), At(ahead, aside), At(ahead, aside + 1));
            var position = place.Index + ahead + Peak(At(ahead - 1, aside), At(ahead, aside), At(ahead + 1, aside));
            var s = strip.Along(position);
            var offset = centre(s) + middle + (across * AcrossStep);
            var point = guide.At(s, offset);
            marks.Add(new RowMark(s, offset, point, map.ToPicture(point), place.Before, learnt.Likeness[place.Index]));
            along.Add(s);
        }

        // A mark's place is as sure as its likeness is steady, by how fast likeness falls off.
        var spread = Math.Clamp(Spread(learnt.Likeness, learnt.Chain), 0.02, 0.6);
        var pitches = marks.Sum(m => m.Before);
        var pitch = pitches > 0 ? RowPath.Of([.. marks.Select(m => m.Place)]).Length / pitches : 0;
        return new FoundRow(pitch, [.. marks], learnt.Template.LengthAlong * spread * strip.Step, learnt.Template.LengthAcross * spread * AcrossStep, Explained(even, learnt.Chain, Inner), Jitter(learnt.Chain));
    }

    /// <summary>Steps along and columns aside at which a mark near a place is most like the others; both at once, since a slanting thread slides along itself.</summary>
    private static (int Along, int Aside) Nearest(MarkTemplate template, Relief relief, int index)
    {
        const int far = 4;
        var best = (Like: double.NegativeInfinity, Along: 0, Aside: 0);
        for (var d = -far; d <= far; d++)
        {
            for (var a = -MostAside; a <= MostAside; a++)
            {
                var like = template.At(relief, index + d, a) - (0.002 * ((a * a) + (d * d)));
                best = like > best.Like ? (like, d, a) : best;
            }
        }

        return (best.Along, best.Aside);
    }

    /// <summary>Length along the smooth middle of the marks.</summary>
    /// <summary>
    /// Share of the strip's variation, within the columns of a mark, that the mean of the others accounts for at each place; less what it does beside the row,
    /// where a weave may repeat as well.
    /// </summary>
    private static double Explained(Relief relief, ImmutableArray<ChainPlace> chain, int inner)
    {
        var (within, all) = (Taken(relief, chain, inner), Taken(relief, chain, inner + Beside));
        var outside = (all.Taken - within.Taken) * inner / Beside;
        return (within.Taken - Math.Max(0, outside)) / Math.Max(1e-9, within.All);
    }

    /// <summary>Judged by the mean of the others, an average of few does not seem to explain its own noise.</summary>
    private static (double Taken, double All) Taken(Relief relief, ImmutableArray<ChainPlace> chain, int inner)
    {
        double taken = 0, all = 0;
        double count = chain.Length;
        var mean = MarkTemplate.Mean(relief, [.. chain.Select(p => (p.Index, 1.0))], StepsOfPitch / 2, inner, tapered: false);
        foreach (var place in chain)
        {
            var own = MarkTemplate.Mean(relief, [(place.Index, 1)], StepsOfPitch / 2, inner, tapered: false);
            var product = mean.Times(own);
            var others = ((count * product) - own.Energy) / (count - 1);
            var energy = ((count * count * mean.Energy) - (2 * count * product) + own.Energy) / ((count - 1) * (count - 1));
            taken += (2 * others) - energy;
            all += own.Energy;
        }

        return (taken, all);
    }

    private static double Peak(double before, double at, double after)
    {
        var curve = before - (2 * at) + after;
        return curve < 0 ? Math.Clamp(0.5 * (before - after) / curve, -0.7, 0.7) : 0;
    }
}
