using System.Collections.Immutable;
using Pairbench.Imaging.Networks;

namespace Pairbench.Imaging.Regions;

/// <summary>
/// What the dabs say of the material. A small network sees, at a quarter of the size and for each material by itself, how near each place lies to its dabs and to those
/// of the others, and the dabs themselves; it says how far that is to be trusted, and what to add.
/// </summary>
/// <remarks>Dabs can be asked with themselves left out, but for the only dab of a material: without it nobody could know of that material.</remarks>
internal sealed class MaterialJudge
{
    private const int MostFolds = 3;

    private static readonly float Unlike = MathF.Exp(DabSpace.Farthest);

    private readonly SurfacePicture _surface;
    private readonly DabSpace _space;
    private readonly ImmutableArray<byte> _labels;
    private readonly int[] _place;
    private readonly Lazy<PlaneStack> _seen;

    /// <param name="strokes">Dabs on materials.</param>
    /// <param name="labels">The materials to divide the surface into; the shares come in this order.</param>
    public MaterialJudge(SurfacePicture surface, Stroke[] strokes, ImmutableArray<byte> labels)
    {
        _surface = surface;
        _labels = labels;
        _space = new DabSpace(surface.Sight.MaterialSpace, strokes, surface.Width);
        _place = [.. strokes.Select((s, d) => strokes.Take(d).Count(b => b.Label == s.Label))];
        Asked = [.. Enumerable.Range(0, strokes.Length).Where(d => strokes.Count(s => s.Label == strokes[d].Label) > 1)];
        Folds = Asked.IsEmpty ? 0 : Math.Min(MostFolds, Asked.Max(d => _place[d]) + 1);
        _seen = new Lazy<PlaneStack>(() => SurfaceNetwork.Material.Begin([.. surface.Sight.Features.Select(f => Quartered(f.Values, 1)), Quartered(surface.Sight.Small.Values, 0.25f)]));
    }

    /// <summary>How many times dabs are left out.</summary>
    public int Folds { get; }

    /// <summary>Dabs that can be left out.</summary>
    public ImmutableArray<int> Asked { get; }

    public Stroke this[int dab] => _space.Strokes[dab];

    /// <summary>The fold in which a dab is left out.</summary>
    public int FoldOf(int dab) => _place[dab] % Folds;

    /// <summary>Probabilities by material at half the size, in the order of the labels; then that of none of them.</summary>
    /// <param name="withoutFold">Dabs to leave out; none below zero.</param>
    public Plane[] Shares(int withoutFold)
    {
        var heard = Enumerable.Range(0, _space.Strokes.Length).Where(d => withoutFold < 0 || !Asked.Contains(d) || FoldOf(d) != withoutFold).ToArray();
        var dabs = _labels.Select(l => heard.Where(d => _space.Strokes[d].Label == l).ToArray()).ToArray();
        int[] dabbed = [.. Enumerable.Range(0, dabs.Length).Where(k => dabs[k].Length > 0)];
        float[][] likeness = [.. dabbed.Select(k => _space.Likeness(dabs[k]))];
        float[][] scores = dabbed.Length > 1
            ? [.. dabbed.Select((k, n) => Score(likeness[n], dabs[k], [.. dabbed.Where(j => j != k).SelectMany(j => dabs[j])]))]
            : likeness;
        int width = _surface.Sight.Width, height = _surface.Sight.Height;
        Plane[] shares = [.. Enumerable.Range(0, _labels.Length + 1).Select(_ => new Plane(width, height))];
        float[][] own = [.. dabbed.Select(k => shares[k].Values)];
        var none = shares[^1].Values;
        for (var i = 0; i < none.Length; i++)
        {
            float known = 0, whole = 0, most = float.MinValue;
            for (var n = 0; n < own.Length; n++)
            {
                known += likeness[n][i];
                most = Math.Max(most, scores[n][i]);
            }

            for (var n = 0; n < own.Length; n++)
            {
                own[n][i] = MathF.Exp(scores[n][i] - most);
                whole += own[n][i];
            }

            // What lies farther from every dab than is ever told is of none of them.
            var some = own.Length > 0 ? known / (known + Unlike) : 0;
            for (var n = 0; n < own.Length; n++)
            {
                own[n][i] *= some / whole;
            }

            none[i] = 1 - some;
        }

        return shares;
    }

    private float[] Score(float[] likeness, int[] own, int[] others)
    {
        float[] near = DabSpace.Evidence(likeness), far = DabSpace.Evidence(_space.Likeness(others));
        var answer = SurfaceNetwork.Material.Run(_seen.Value, [Quartered(near, 0.3f), Quartered(far, 0.3f), Quartered(_space.Marks(own), 2), Quartered(_space.Marks(others), 2)]);
        var score = new float[near.Length];
        int width = _surface.Sight.Width, height = _surface.Sight.Height;
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                int i = (y * width) + x, at = (y / 2 * (width / 2)) + (x / 2);
                score[i] = ((1 + answer[0].Values[at]) * 0.5f * (near[i] - far[i])) + (2 * answer[1].Values[at]);
            }
        }

        return score;
    }

    private Plane Quartered(float[] values, float scale) => _surface.Sight.Told(values, scale).Halved();
}
