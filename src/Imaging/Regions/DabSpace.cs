using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>A dab as the pixels of the surface that it covers.</summary>
internal readonly record struct Stroke(byte Label, int[] Pixels);

/// <summary>The dabs at half the size, and how near every place lies to each of them in one space.</summary>
internal sealed class DabSpace
{
    /// <summary>No place is told to be farther from a dab than this.</summary>
    public const float Farthest = -9;

    private static readonly float Least = MathF.Exp(Farthest);

    private readonly Plane[] _marks;
    private readonly float[][] _likeness;

    /// <param name="space">Planes at half the size of the surface.</param>
    /// <param name="surfaceWidth">Width of the surface in pixels, which the strokes count by.</param>
    public DabSpace(ImmutableArray<Plane> space, Stroke[] strokes, int surfaceWidth)
    {
        Strokes = strokes;
        _marks = [.. strokes.Select(s => Marked(s, surfaceWidth, space[0].Width, space[0].Height))];
        _likeness = new float[strokes.Length][];
        Parallel.For(0, strokes.Length, d => _likeness[d] = LikenessTo(space, _marks[d]));
    }

    public Stroke[] Strokes { get; }

    /// <summary>Mean over some dabs of exp(-squared distance to the mean place of the dab).</summary>
    /// <param name="dabs">At least one.</param>
    public float[] Likeness(IReadOnlyList<int> dabs)
    {
        var likeness = new float[_likeness[dabs[0]].Length];
        foreach (var d in dabs)
        {
            var one = _likeness[d];
            for (var i = 0; i < likeness.Length; i++)
            {
                likeness[i] += one[i];
            }
        }

        for (var i = 0; i < likeness.Length; i++)
        {
            likeness[i] /= dabs.Count;
        }

        return likeness;
    }

    /// <summary>Natural logarithm of a likeness, not below <see cref="Farthest"/>.</summary>
    public static float[] Evidence(float[] likeness)
    {
        var evidence = new float[likeness.Length];
        for (var i = 0; i < evidence.Length; i++)
        {
            evidence[i] = MathF.Log(Math.Max(Least, likeness[i]));
        }

        return evidence;
    }

    /// <summary>How much of each place lies under some dabs, 0 to 1.</summary>
    public float[] Marks(IEnumerable<int> dabs)
    {
        var marks = new float[_marks.Length == 0 ? 0 : _marks[0].Values.Length];
        foreach (var d in dabs)
        {
            for (var i = 0; i < marks.Length; i++)
            {
                marks[i] = Math.Min(1, marks[i] + _marks[d].Values[i]);
            }
        }

        return marks;
    }

    private static Plane Marked(Stroke stroke, int surfaceWidth, int width, int height)
    {
        var mark = new Plane(width, height);
        foreach (var p in stroke.Pixels)
        {
            mark.Values[(p / surfaceWidth / 2 * width) + (p % surfaceWidth / 2)] += 0.25f;
        }

        return mark;
    }

    private static float[] LikenessTo(ImmutableArray<Plane> space, Plane mark)
    {
        var squares = new float[mark.Values.Length];
        foreach (var plane in space)
        {
            double sum = 0, weight = 0;
            for (var i = 0; i < squares.Length; i++)
            {
                if (mark.Values[i] > 0)
                {
                    sum += mark.Values[i] * plane.Values[i];
                    weight += mark.Values[i];
                }
            }

            var mean = (float)(sum / weight);
            for (var i = 0; i < squares.Length; i++)
            {
                var away = plane.Values[i] - mean;
                squares[i] += away * away;
            }
        }

        for (var i = 0; i < squares.Length; i++)
        {
            squares[i] = MathF.Exp(-squares[i]);
        }

        return squares;
    }
}
