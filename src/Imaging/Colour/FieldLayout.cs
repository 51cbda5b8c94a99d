using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.RootFinding;

namespace Pairbench.Imaging.Colour;

/// <summary>
/// What the numbers of a light field are, in turn: the level of each channel; the terms of the quadratic, common and of each channel; level, hue and shape of each neutral; how far the light at each neutral departs from the
/// quadratic; and the knots of the tone curve. Light is a logarithm throughout.
/// </summary>
internal sealed class FieldLayout
{
    private const double Linear = 0.05;
    private const double Curved = 0.03;
    private const double BetweenChannels = 0.12;

    /// <summary>What a neutral seems to slope from its middle to its edge, and to bow: a camera's local contrast draws it lighter or darker along its edge, and a card is not flat (common practice, no source).</summary>
    private const double OwnSlope = 0.003;
    private const double OwnBow = 0.01;

    /// <summary>Over which part of half the picture departures go together.</summary>
    private const double Reach = 0.5;
    private const double LeastSlope = 0.2;

    /// <summary>Logarithms of light between which that of any scene lies.</summary>
    private const double Abyss = -100;
    private const double Glare = 20;
    private const int Terms = 5;
    private const int Shared = 3 + (4 * Terms);
    private const int Own = 4 + Terms;

    private readonly PixelSize _size;
    private readonly ImmutableArray<PixelPoint> _centres;
    private readonly ImmutableArray<SeenNeutral> _neutrals;
    private readonly double _pivot;
    private readonly int _local;
    private readonly Matrix<double> _inverse;

    /// <param name="pivot">Light at which picture and scene are equal.</param>
    public FieldLayout(ImmutableArray<SeenNeutral> neutrals, PixelSize size, double pivot)
    {
        _size = size;
        _pivot = pivot;
        _neutrals = neutrals;
        _local = Shared + (Own * neutrals.Length);
        _centres = neutrals.IsEmpty ? [new PixelPoint(size.Width / 2.0, size.Height / 2.0)] : [.. neutrals.Select(n => n.Centre)];
        Tone = _local + _centres.Length;
        _inverse = Matrix<double>.Build.Dense(_centres.Length, _centres.Length, (i, j) => Together(_centres[i], _centres[j]) + (i == j ? 1e-6 : 0)).Inverse();
    }

    /// <summary>From here on the numbers are those of the tone curve.</summary>
    public int Tone { get; }

    public int Count => Tone + ToneCurve.Knots;

    /// <summary>Precision of what is known of the light beforehand.</summary>
    /// <param name="width">How much wider than usual the quadratic may be.</param>
    /// <param name="departure">Standard deviation of the departure from it.</param>
    public Matrix<double> Known(IReadOnlyList<NeutralPatch> neutrals, double width, double departure)
    {
        var precision = Matrix<double>.Build.Dense(Count, Count);
        for (var i = 0; i < 3; i++)
        {
            precision[i, i] = neutrals.Count > 0 ? 1e-2 : 1e12;
        }

        for (var i = 0; i < 4 * Terms; i++)
        {
            var sd = width * (i % Terms < 2 ? Linear : Curved) * (i < Terms ? 1 : BetweenChannels);
            precision[3 + i, 3 + i] = 1 / (sd * sd);
        }

        for (var n = 0; n < neutrals.Count; n++)
        {
            var at = Shared + (Own * n);
            var level = neutrals[n].Expected is null ? 10 : Math.Max(1e-6, neutrals[n].Deviation);
            var hue = n == 0 ? 1e-6 : neutrals[n].Hue;
            precision[at, at] = 1 / (level * level);
            for (var c = 1; c <= 3; c++)
            {
                precision[at + c, at + c] = 1 / (hue * hue);
            }

            for (var t = 0; t < Terms; t++)
            {
                var shape = t < 2 ? OwnSlope : OwnBow;
                precision[at + 4 + t, at + 4 + t] = 1 / (shape * shape);
            }
        }

        precision.SetSubMatrix(_local, _local, _inverse / (departure * departure));
        return precision;
    }

    /// <summary>Logarithm of the volume that a prior of such a width takes up, but for a constant.</summary>
    public double LogVolume(double width, double departure) => (4 * Terms * Math.Log(width)) + (_centres.Length * Math.Log(departure));

    /// <summary>The row of the light at a block of a neutral.</summary>
    public Vector<double> Row(int block, int channel, int neutral)
    {
        var of = _neutrals[neutral];
        var row = Row(of.Places[block], channel);
        var own = Shared + (Own * neutral);
        row[own] = 1;
        row[own + 1 + channel] = 1;
        var shape = Quadratic((of.Places[block].X - of.Centre.X) / of.Half.X, (of.Places[block].Y - of.Centre.Y) / of.Half.Y);
        for (var t = 0; t < Terms; t++)
        {
            row[own + 4 + t] = shape[t];
        }

        row[_local + neutral] = 1;
        return row;
    }

    /// <summary>The light at a place, beside that of what lies there.</summary>
    public double Light(PixelPoint place, int channel, Vector<double> about) => Anywhere(place, channel) * about;

    /// <summary>The scene's light from the picture's, both as logarithms.</summary>
    public double Scene(double picture, Vector<double> about)
    {
        double Over(double scene) => scene + Added(ToneCurve.Row(scene, _pivot), about) - picture;
        var scene = picture;
        for (var step = 0; step < 30; step++)
        {
            var over = Over(scene);
            if (Math.Abs(over) < 1e-9)
            {
                return scene;
            }

            scene -= over / Slope(scene, about);
        }

        // Newton's steps may swing to and fro where the slope changes fast, as it does in deep shadow.
        return Brent.FindRoot(Over, Abyss, Glare, 1e-9, 200);
    }

    /// <summary>How a corrected light, less than it is, follows the numbers.</summary>
    /// <param name="picture">Light that the picture has there.</param>
    public Vector<double> Doubt(PixelPoint place, double picture, int channel, Vector<double> about)
    {
        var scene = Scene(picture, about);
        return Anywhere(place, channel) + (Tones(scene) / Slope(scene, about));
    }

    /// <summary>What the tone curve adds to a light of the scene, as a row.</summary>
    public Vector<double> Tones(double scene) => OfTone(ToneCurve.Row(scene, _pivot));

    /// <summary>The picture's change of light over the scene's.</summary>
    public double Slope(double scene, Vector<double> about) => Math.Max(LeastSlope, 1 + Added(ToneCurve.Slope(scene), about));

    /// <summary>How the departures at two places go together beyond what the neutrals tell of both, for a departure of one.</summary>
    public double Left(PixelPoint first, PixelPoint second) => Together(first, second) - (Departure(first) * (_inverse * Departure(second)));

    private double Added(double[] knots, Vector<double> about)
    {
        var sum = 0.0;
        for (var k = 0; k < knots.Length; k++)
        {
            sum += knots[k] * about[Tone + k];
        }

        return sum;
    }

    private Vector<double> OfTone(double[] knots)
    {
        var row = Vector<double>.Build.Dense(Count);
        row.SetSubVector(Tone, ToneCurve.Knots, Vector<double>.Build.Dense(knots));
        return row;
    }

    private Vector<double> Anywhere(PixelPoint place, int channel)
    {
        var row = Row(place, channel);
        row.SetSubVector(_local, _centres.Length, _inverse * Departure(place));
        return row;
    }

    private Vector<double> Row(PixelPoint place, int channel)
    {
        var half = Math.Max(_size.Width, _size.Height) / 2.0;
        double x = (place.X - (_size.Width / 2.0)) / half, y = (place.Y - (_size.Height / 2.0)) / half;
        var terms = Quadratic(x, y);
        var row = Vector<double>.Build.Dense(Count);
        row[channel] = 1;
        for (var t = 0; t < Terms; t++)
        {
            row[3 + t] = terms[t];
            row[3 + (Terms * (1 + channel)) + t] = terms[t];
        }

        return row;
    }

    private static double[] Quadratic(double x, double y) => [x, y, x * x, x * y, y * y];

    private Vector<double> Departure(PixelPoint place) => Vector<double>.Build.Dense([.. _centres.Select(c => Together(c, place))]);

    private double Together(PixelPoint first, PixelPoint second) => Math.Exp(-double.Hypot(first.X - second.X, first.Y - second.Y) / (Reach * Math.Max(_size.Width, _size.Height) / 2.0));
}
