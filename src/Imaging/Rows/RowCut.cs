using System.Collections.Immutable;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// Where a period may be cut. Each mark is one rigid piece: it lies a little off its place, a little fainter or stronger than the others, as a whole. Cut between
/// marks, each piece is explained by the mean of the others, moved and scaled; cut through the marks, halves of two pieces move apart, and the first and the last
/// are half seen.
/// </summary>
internal sealed class RowCut
{
    private const int Every = 2;
    private const int Turns = 2;
    private const int MostAlong = 2;
    private const int MostAside = 4;
    private const double MostStrength = 1.3;

    /// <summary>Of the range between the worst cut and the best, what a cut may lack to be still likely.</summary>
    private const double Slack = 0.25;

    private readonly Relief _relief;
    private readonly int _half;
    private readonly int _inner;
    private readonly int _size;

    private RowCut(Relief relief, int half, int inner) => (_relief, _half, _inner, _size) = (relief, half, inner, ((2 * half) + 1) * inner * RowStrip.Planes);

    private readonly record struct Piece(int Index, int Aside, float Strength);

    /// <summary>For each shift of the chain from minus half a period on, whether the marks may lie there.</summary>
    /// <param name="even">The strip with the ground evened.</param>
    /// <param name="inner">Columns that a mark covers.</param>
    public static bool[] Likely(Relief even, ImmutableArray<ChainPlace> chain, int period, int inner)
    {
        var cut = new RowCut(even, period / 2, inner);
        var explained = new double[period / Every];
        Parallel.For(0, explained.Length, k => explained[k] = cut.Explained(chain, (k * Every) - (period / 2)));
        var least = explained.Max() - (Slack * (explained.Max() - explained.Min()));
        return [.. Enumerable.Range(0, period).Select(s => explained[s / Every] >= least || explained[(s + Every - 1) / Every % explained.Length] >= least)];
    }

    private double Explained(ImmutableArray<ChainPlace> chain, int shift)
    {
        // One place more at either end: where the cut is wrong, half a mark lies there.
        var places = chain.Select(p => p.Index).Prepend(chain[0].Index - (2 * _half)).Append(chain[^1].Index + (2 * _half)).Select(i => new Piece(i + shift, 0, 1));
        var pieces = places.Where(Within).ToArray();
        double total = 0;
        for (var turn = 0; turn < Turns; turn++)
        {
            (pieces, total) = Moved(pieces);
        }

        return total;
    }

    private bool Within(Piece piece) => piece.Index - _half - MostAlong >= 0 && piece.Index + _half + MostAlong < _relief.Count;

    /// <summary>Each piece moved to where the mean of the others explains most of it, and how much that is in all.</summary>
    private (Piece[] Pieces, double Explained) Moved(Piece[] pieces)
    {
        var values = new float[pieces.Length][];
        var sum = new float[_size];
        double squares = 0;
        for (var k = 0; k < pieces.Length; k++)
        {
            values[k] = new float[_size];
            Cut(pieces[k].Index, pieces[k].Aside, values[k]);
            squares += pieces[k].Strength * pieces[k].Strength;
            for (var i = 0; i < _size; i++)
            {
                sum[i] += pieces[k].Strength * values[k][i];
            }
        }

        var moved = new List<Piece>(pieces.Length);
        var others = new float[_size];
        var trial = new float[_size];
        double total = 0;
        for (var k = 0; k < pieces.Length; k++)
        {
            var strength = pieces[k].Strength;
            var weight = (float)(1 / Math.Max(1e-6, squares - (strength * strength)));
            for (var i = 0; i < _size; i++)
            {
                others[i] = (sum[i] - (strength * values[k][i])) * weight;
            }

            var energy = Math.Max(1e-6f, Likeness.Dot(others, others));
            var best = (Gain: 0f, Piece: pieces[k] with { Strength = 0 });
            for (var d = -MostAlong; d <= MostAlong; d++)
            {
                for (var aside = -MostAside; aside <= MostAside; aside += 2)
                {
                    Cut(pieces[k].Index + d, aside, trial);
                    var product = Likeness.Dot(others, trial);
                    var scale = Math.Clamp(product / energy, 0, (float)MostStrength);
                    var gain = (2 * scale * product) - (scale * scale * energy);
                    best = gain > best.Gain ? (gain, new Piece(pieces[k].Index + d, aside, scale)) : best;
                }
            }

            total += best.Gain;
            if (Within(best.Piece))
            {
                moved.Add(best.Piece);
            }
        }

        return ([.. moved], total);
    }

    private void Cut(int index, int aside, float[] piece)
    {
        var columns = _relief.Width / RowStrip.Planes;
        var skip = ((columns - _inner) / 2) + aside;
        for (var u = -_half; u <= _half; u++)
        {
            var row = _relief[Math.Clamp(index + u, 0, _relief.Count - 1)];
            for (var plane = 0; plane < RowStrip.Planes; plane++)
            {
                row.Slice((plane * columns) + skip, _inner).CopyTo(piece.AsSpan((((u + _half) * RowStrip.Planes) + plane) * _inner));
            }
        }
    }
}
