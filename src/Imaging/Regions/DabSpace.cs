using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>A dab as the pixels of the surface that it covers.</summary>
internal readonly record struct Stroke(byte Label, int[] Pixels);

/// <summary>Squared distances of every pixel to every dab in one space.</summary>
internal sealed class DabSpace
{
    private readonly Stroke[] _strokes;
    private readonly float[][] _squares;

    /// <param name="onlyInZones">Materials that no pixel outside a zone is of.</param>
    public DabSpace(Plane[] space, Stroke[] strokes, ImmutableHashSet<byte>? onlyInZones = null)
    {
        OnlyInZones = onlyInZones ?? [];
        _strokes = strokes;
        _squares = new float[strokes.Length][];
        Parallel.For(0, strokes.Length, d =>
        {
            var squares = new float[space[0].Values.Length];
            foreach (var plane in space)
            {
                double sum = 0;
                foreach (var p in strokes[d].Pixels)
                {
                    sum += plane.Values[p];
                }

                var mean = (float)(sum / strokes[d].Pixels.Length);
                for (var i = 0; i < squares.Length; i++)
                {
                    var away = plane.Values[i] - mean;
                    squares[i] += away * away;
                }
            }

            _squares[d] = squares;
        });
    }

    public ImmutableHashSet<byte> OnlyInZones { get; }

    public int Count => _strokes.Length;

    public int[] Pixels(int dab) => _strokes[dab].Pixels;

    public byte Label(int dab) => _strokes[dab].Label;

    public bool HasFellow(int dab) => _strokes.Count(s => s.Label == _strokes[dab].Label) > 1;

    /// <summary>Logarithm of the mean over the dabs of a label of exp(-squared distance); not a number where there are none.</summary>
    /// <param name="without">A dab to leave out; none below zero.</param>
    public float Evidence(int pixel, byte label, int without)
    {
        float least = float.MaxValue, sum = 0;
        var count = 0;
        for (var pass = 0; pass < 2; pass++)
        {
            for (var d = 0; d < _strokes.Length; d++)
            {
                if (d == without || _strokes[d].Label != label)
                {
                    continue;
                }

                if (pass == 0)
                {
                    least = Math.Min(least, _squares[d][pixel]);
                    count++;
                }
                else
                {
                    sum += MathF.Exp(least - _squares[d][pixel]);
                }
            }
        }

        return count == 0 ? float.NaN : MathF.Log(sum / count) - least;
    }
}
