using System.Collections.Immutable;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// Goes on from the first and the last mark of a chain: where the row swings away from the middle that was supposed, its last marks lie further aside than the chain looks.
/// Judged by the strip with the ground evened, in which no column is held down for lying aside.
/// </summary>
internal sealed class RowEnds
{
    /// <summary>How much likelier than none a mark must be (natural logarithm), since it is looked for at many places.</summary>
    private const double Least = 1.5;

    /// <summary>How far to the side of its neighbour a mark lies, standard deviation in columns.</summary>
    private const double Sway = 2.5;

    private const double LeastVariance = 0.06;
    private const double MostEvidence = 8;
    private const int Inner = 11;
    private const int MostAside = 8;

    private readonly Relief _even;
    private readonly int _period;
    private readonly double _jitter;
    private readonly MarkTemplate _template;
    private readonly double _usual;
    private readonly double _variance;

    private RowEnds(Relief even, ImmutableArray<ChainPlace> chain, int period, double jitter)
    {
        (_even, _period, _jitter) = (even, period, jitter);
        _template = MarkTemplate.Mean(even, [.. chain.Select(p => (p.Index, 1.0))], (int)Math.Round(0.5 * period), Inner);
        var likeness = chain.Select(p => Aside(p.Index).Likeness).Order().ToArray();
        _usual = Math.Max(0.1, likeness[likeness.Length / 2]);
        var away = likeness.Select(l => Math.Abs((l / _usual) - 1)).Order().ElementAt(likeness.Length / 2);
        _variance = Math.Max(LeastVariance, Math.Pow(1.48 * away, 2));
    }

    /// <param name="jitter">Standard deviation of a distance between neighbours over the pitch.</param>
    /// <param name="room">Steps between which marks may lie.</param>
    public static ImmutableArray<ChainPlace> With(Relief even, ImmutableArray<ChainPlace> chain, int period, double jitter, (int First, int Last) room)
    {
        var ends = new RowEnds(even, chain, period, jitter);
        var places = chain.ToList();
        while (ends.Next(places[^1].Index, period, room) is { } after)
        {
            places.Add(new ChainPlace(after, 1));
        }

        while (ends.Next(places[0].Index, -period, room) is { } before)
        {
            places[0] = places[0] with { Before = 1 };
            places.Insert(0, new ChainPlace(before, 0));
        }

        return [.. places];
    }

    private (double Likeness, int Aside) Aside(int index)
    {
        var best = (Likeness: double.NegativeInfinity, Aside: 0);
        for (var aside = -MostAside; aside <= MostAside; aside++)
        {
            var likeness = _template.At(_even, index, aside);
            best = likeness > best.Likeness ? (likeness, aside) : best;
        }

        return best;
    }

    private int? Next(int from, int by, (int First, int Last) room)
    {
        var start = Aside(from).Aside;
        var reach = (int)(0.38 * _period);
        var best = (Score: Least, Index: (int?)null);
        for (var index = Math.Max(room.First, from + by - reach); index <= Math.Min(room.Last, from + by + reach); index++)
        {
            var along = (index - from - by) / (_jitter * _period);
            for (var aside = -MostAside; aside <= MostAside; aside++)
            {
                var off = (aside - start) / Sway;
                var evidence = Math.Min(MostEvidence, ((_template.At(_even, index, aside) / _usual) - 0.5) / _variance);
                var score = evidence - (2.5 * Math.Log((1 + (along * along / 5)) * (1 + (off * off / 5))));
                best = score > best.Score ? (score, index) : best;
            }
        }

        return best.Index;
    }
}
