using Pairbench.Imaging.Networks;

namespace Pairbench.Imaging.Regions;

/// <summary>
/// What picture and dabs together say of contact. A small network sees, at half the size, what the picture says here and where the tread repeats, how near each place lies to
/// the dabs in the space of contact, and the dabs themselves: so a dab may reach as far as the edges around it. It says how far picture and dabs are to be trusted, and what to add.
/// </summary>
/// <remarks>Each dab can be asked with itself left out. Of many dabs several are left out together, so that a new dab is answered in time.</remarks>
internal sealed class ContactJudge
{
    private const int MostFolds = 3;

    /// <summary>Log evidence of a kind that nobody has dabbed.</summary>
    private const float Missing = -4;

    private readonly SurfacePicture _surface;
    private readonly DabSpace _space;
    private readonly Lazy<PlaneStack> _seen;
    private readonly Plane[] _known;

    /// <param name="strokes">Dabs on what touches and on what does not.</param>
    /// <param name="tracing">Where traced zones meet.</param>
    public ContactJudge(SurfacePicture surface, Stroke[] strokes, ZoneLines tracing)
    {
        _surface = surface;
        _space = new DabSpace(surface.Sight.ContactSpace, strokes, surface.Width);
        Folds = Math.Min(MostFolds, strokes.Length);
        _seen = new Lazy<PlaneStack>(() => SurfaceNetwork.Contact.Begin([.. surface.Sight.Features.Select(f => surface.Sight.Told(f.Values, 1)), surface.Sight.Told(surface.Sight.Small.Values, 0.25f)]));
        _known = [
            surface.Sight.Told(Everywhere(tracing.Traced), 1), surface.Sight.Told(tracing.Lines.Values, 2),
            surface.Sight.Told(surface.Sight.Repeats.Told.Values, 1), surface.Sight.Told(surface.Sight.Repeats.Alike.Values, 1)];
    }

    /// <summary>How many times dabs are left out: once for each, or for several at once.</summary>
    public int Folds { get; }

    public int Count => _space.Strokes.Length;

    public Stroke this[int dab] => _space.Strokes[dab];

    /// <summary>The fold in which a dab is left out.</summary>
    public int FoldOf(int dab) => dab % Folds;

    /// <summary>Log odds of touching at every pixel of the surface.</summary>
    /// <param name="withoutFold">Dabs to leave out; none below zero.</param>
    public Plane LogOdds(int withoutFold)
    {
        int[] heard = [.. Enumerable.Range(0, Count).Where(d => withoutFold < 0 || FoldOf(d) != withoutFold)];
        int[] touching = [.. heard.Where(Touches)], open = [.. heard.Where(d => !Touches(d))];
        float[] near = Evidence(touching), far = Evidence(open);
        var answer = SurfaceNetwork.Contact.Run(_seen.Value, [
            _surface.Sight.Told(near, 0.3f), _surface.Sight.Told(far, 0.3f),
            _surface.Sight.Told(Marks(touching), 2), _surface.Sight.Told(Marks(open), 2),
            _surface.Sight.Told(Everywhere(touching.Length > 0), 1), _surface.Sight.Told(Everywhere(open.Length > 0), 1),
            .. _known]);
        var result = new Plane(_surface.Width, _surface.Height);
        var width = _surface.Sight.Width;
        for (var y = 0; y < _surface.Height; y++)
        {
            for (var x = 0; x < _surface.Width; x++)
            {
                int i = (y * _surface.Width) + x, at = (y / 2 * width) + (x / 2);
                result.Values[i] = ((1 + answer[0].Values[at]) * _surface.Sight.Contact.Values[i])
                    + ((1 + answer[1].Values[at]) * (near[at] - far[at]))
                    + (4 * answer[2].Values[at]);
            }
        }

        return result;
    }

    private bool Touches(int dab) => _space.Strokes[dab].Label != Dab.NotTouching;

    private float[] Evidence(int[] dabs)
    {
        if (dabs.Length > 0)
        {
            return DabSpace.Evidence(_space.Likeness(dabs));
        }

        var missing = new float[_surface.Sight.Mask.Values.Length];
        Array.Fill(missing, Missing);
        return missing;
    }

    private float[] Marks(int[] dabs) => dabs.Length > 0 ? _space.Marks(dabs) : Everywhere(false);

    private float[] Everywhere(bool said)
    {
        var all = new float[_surface.Sight.Mask.Values.Length];
        Array.Fill(all, said ? 1 : 0);
        return all;
    }
}
