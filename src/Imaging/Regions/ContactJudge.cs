using Pairbench.Imaging.Networks;

namespace Pairbench.Imaging.Regions;

/// <summary>
/// What picture and dabs together say of contact. A small network sees, at half the size, what the picture says, how near each place lies to the dabs in the space of
/// contact, and the dabs themselves: so a dab may reach as far as the edges around it. It says how far picture and dabs are to be trusted, and what to add.
/// </summary>
/// <remarks>Each dab can be asked with itself left out. Of many dabs several are left out together, so that a new dab is answered in time.</remarks>
internal sealed class ContactJudge
{
    private const int MostFolds = 5;

    /// <summary>Log evidence of a kind that nobody has dabbed.</summary>
    private const float Missing = -4;

    /// <summary>No place is farther from a dab than this.</summary>
    private const float Farthest = -9;

    /// <summary>The planes of <see cref="SurfaceInput"/> that the network sees again: lightness, grain, narrow structures, and the surface itself.</summary>
    private static readonly int[] SeenAgain = [0, 1, 4, 6, 7, 8, 9, 5];

    private readonly SurfacePicture _surface;
    private readonly Stroke[] _strokes;
    private readonly float[][] _likeness;
    private readonly Plane[] _seen;
    private readonly int _width;
    private readonly int _height;

    /// <param name="strokes">Dabs on what touches and on what does not.</param>
    public ContactJudge(SurfacePicture surface, Stroke[] strokes)
    {
        _surface = surface;
        _strokes = strokes;
        Folds = Math.Min(MostFolds, strokes.Length);
        const int grid = 2 * UNet.Grid;
        _width = (surface.Width + grid - 1) / grid * UNet.Grid;
        _height = (surface.Height + grid - 1) / grid * UNet.Grid;
        _likeness = new float[strokes.Length][];
        Parallel.For(0, strokes.Length, d => _likeness[d] = Likeness(surface, strokes[d]));
        _seen = surface.Inputs.Length <= SeenAgain.Max()
            ? []
            : [
                .. SeenAgain.Select(k => Halved(surface.Inputs[k].Values, 1)),
                Halved([.. surface.Contact.Values.Select(Bounded)], 0.25f),
                .. surface.ContactSpace.Select(p => Halved(p.Values, 1))];
    }

    /// <summary>How many times dabs are left out: once for each, or for several at once.</summary>
    public int Folds { get; }

    public int Count => _strokes.Length;

    public Stroke this[int dab] => _strokes[dab];

    /// <summary>The fold in which a dab is left out.</summary>
    public int FoldOf(int dab) => dab % Folds;

    /// <summary>Log odds of touching at every pixel of the surface.</summary>
    /// <param name="withoutFold">Dabs to leave out; none below zero.</param>
    public Plane LogOdds(int withoutFold)
    {
        if (_seen.Length == 0)
        {
            return _surface.Contact;
        }

        bool[] heard = [.. Enumerable.Range(0, _strokes.Length).Select(d => withoutFold < 0 || FoldOf(d) != withoutFold)];
        float[] touching = Evidence(heard, true), open = Evidence(heard, false);
        var touched = heard.Where((h, d) => h && Touches(d)).Any();
        var opened = heard.Where((h, d) => h && !Touches(d)).Any();
        var answer = SurfaceNetwork.Dabs.Run([
            .. _seen,
            Halved(touching, 0.3f), Halved(open, 0.3f),
            Halved(Marks(heard, true), 2), Halved(Marks(heard, false), 2),
            Halved(All(touched), 1), Halved(All(opened), 1)]);
        var result = new Plane(_surface.Width, _surface.Height);
        for (var y = 0; y < _surface.Height; y++)
        {
            for (var x = 0; x < _surface.Width; x++)
            {
                int i = (y * _surface.Width) + x, at = (y / 2 * _width) + (x / 2);
                result.Values[i] = ((1 + answer[0].Values[at]) * Bounded(_surface.Contact.Values[i]))
                    + ((1 + answer[1].Values[at]) * (touching[i] - open[i]))
                    + (4 * answer[2].Values[at]);
            }
        }

        return result;
    }

    private bool Touches(int dab) => _strokes[dab].Label != Dab.NotTouching;

    /// <summary>exp(-squared distance to the mean place of the dab) in the space of contact.</summary>
    private static float[] Likeness(SurfacePicture surface, Stroke stroke)
    {
        var squares = new float[surface.Inside.Length];
        foreach (var plane in surface.ContactSpace)
        {
            var mean = (float)stroke.Pixels.Average(p => (double)plane.Values[p]);
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

    /// <summary>Logarithm of the mean likeness to the dabs of a kind.</summary>
    private float[] Evidence(bool[] heard, bool touches)
    {
        var used = Enumerable.Range(0, _strokes.Length).Where(d => heard[d] && Touches(d) == touches).ToArray();
        var evidence = new float[_surface.Inside.Length];
        if (used.Length == 0)
        {
            Array.Fill(evidence, Missing);
            return evidence;
        }

        foreach (var d in used)
        {
            for (var i = 0; i < evidence.Length; i++)
            {
                evidence[i] += _likeness[d][i];
            }
        }

        for (var i = 0; i < evidence.Length; i++)
        {
            evidence[i] = Math.Clamp(MathF.Log((evidence[i] / used.Length) + 1e-9f), Farthest, 0);
        }

        return evidence;
    }

    private float[] Marks(bool[] heard, bool touches)
    {
        var marks = new float[_surface.Inside.Length];
        for (var d = 0; d < _strokes.Length; d++)
        {
            if (heard[d] && Touches(d) == touches)
            {
                foreach (var p in _strokes[d].Pixels)
                {
                    marks[p] = 1;
                }
            }
        }

        return marks;
    }

    private float[] All(bool said)
    {
        var all = new float[_surface.Inside.Length];
        Array.Fill(all, said ? 1 : 0);
        return all;
    }

    /// <summary>Means of two by two pixels, those off the surface counting as zero.</summary>
    private Plane Halved(float[] values, float scale)
    {
        var plane = new Plane(_width, _height);
        for (var y = 0; y < _surface.Height; y++)
        {
            for (var x = 0; x < _surface.Width; x++)
            {
                var i = (y * _surface.Width) + x;
                if (_surface.Inside[i])
                {
                    plane.Values[(y / 2 * _width) + (x / 2)] += scale * 0.25f * values[i];
                }
            }
        }

        return plane;
    }

    private static float Bounded(float logOdds) => Math.Clamp(logOdds, -8, 8);
}
