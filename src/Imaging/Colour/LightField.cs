using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;

namespace Pairbench.Imaging.Colour;

/// <summary>A neutral patch and what is known of it.</summary>
/// <param name="Expected">Its light as it should be; null where only its evenness and its lack of hue are known.</param>
/// <param name="Deviation">Standard uncertainty of its level against the first neutral, relative; zero for the first.</param>
/// <param name="Hue">The same of its channels against each other.</param>
public sealed record NeutralPatch(PatchBlocks Blocks, LinearRgb? Expected, double Deviation, double Hue = NeutralPatch.UsualHue)
{
    public const double UsualHue = 0.005;
}

/// <summary>By how much one standard uncertainty of a cause changes the corrected light at several places, relative.</summary>
/// <param name="IsTone">Whether it comes of the camera's tone curve, else of the light.</param>
public sealed record FieldFactor(bool IsTone, ImmutableArray<LinearRgb> Places);

/// <summary>
/// The light over a picture in each channel, and the camera's tone curve (<see cref="ToneCurve"/>), by Bayesian regression from the neutrals. Where neutrals say little (one small card), both stay uncertain, and the
/// uncertainty of every patch says so.
/// </summary>
/// <remarks>
/// The light is the exponential of a quadratic in the place with what is usual of bench light as the prior: a fall of 5 % from the middle of the picture to its edge, curvature of 3 %, an eighth of these between channels
/// (standard deviations; common practice, no source). Lamps are not all alike: the prior is as much wider, up to eight times, as makes what the neutrals show likeliest. Shadows and near lamps are no quadratic: a departure
/// that goes together over a quarter of the picture is added, 0.3 % at least, as large as makes the neutrals likeliest.
/// The tone curve is told by neutrals of different stated lightness alone: that the light falls must not make a camera seem to have contrast.
/// </remarks>
public sealed class LightField
{
    private const double MiddleGrey = 0.18;
    private const int Rounds = 5;

    private static readonly ImmutableArray<double> Widths = [1, 1.4, 2, 2.8, 4, 5.6, 8];
    private static readonly ImmutableArray<double> Departures = [0.003, 0.006, 0.012, 0.025, 0.05, 0.1];

    private readonly FieldLayout _layout;
    private readonly Vector<double> _mean;
    private readonly Matrix<double> _covariance;
    private readonly double _departure;

    private LightField(FieldLayout layout, Vector<double> mean, Matrix<double> covariance, double departure) => (_layout, _mean, _covariance, _departure) = (layout, mean, covariance, departure);

    /// <param name="neutrals">The first gives the level; none at all leaves the picture as it is, with the uncertainty of light that nobody looked at.</param>
    /// <param name="slope">How far the slope of the camera's tone curve may be from that of sRGB, standard deviation.</param>
    /// <exception cref="OperationCanceledException">The fit was called off; many neutrals take a while.</exception>
    public static LightField Of(IReadOnlyList<NeutralPatch> neutrals, PixelSize size, double slope, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(neutrals);
        var pivot = Math.Log(neutrals.Count > 0 ? neutrals[0].Blocks.Blocks.Average(b => b.Mean.Luminance) : MiddleGrey);
        var seen = neutrals.Select((n, i) => SeenNeutral.Of(n, neutrals[0], pivot, i)).ToImmutableArray();
        var layout = new FieldLayout(seen, size, pivot);
        var tone = ToneCurve.Prior(slope).Inverse();
        var (width, departure) = (Widths[0], Departures[0]);
        var mean = Vector<double>.Build.Dense(layout.Count);
        Matrix<double> ofTone, ofLight, follows;

        // What a tone curve makes of light is a product of both: linear about the last solution, and solved again.
        var round = 0;
        do
        {
            var (squares, right) = FieldSums.Of(seen, mean, layout, isTone: true);
            var all = squares + layout.Known(neutrals, width, departure);
            all.SetSubMatrix(layout.Tone, layout.Tone, all.SubMatrix(layout.Tone, ToneCurve.Knots, layout.Tone, ToneCurve.Knots) + tone);
            ofTone = all.Inverse().SubMatrix(layout.Tone, ToneCurve.Knots, layout.Tone, ToneCurve.Knots);
            mean.SetSubVector(layout.Tone, ToneCurve.Knots, all.Cholesky().Solve(right).SubVector(layout.Tone, ToneCurve.Knots));

            (squares, right) = FieldSums.Of(seen, mean, layout, isTone: false);
            var light = squares.SubMatrix(0, layout.Tone, 0, layout.Tone);
            var bound = right.SubVector(0, layout.Tone) - (squares.SubMatrix(0, layout.Tone, layout.Tone, ToneCurve.Knots) * mean.SubVector(layout.Tone, ToneCurve.Knots));
            (width, departure) = Likeliest(light, bound, neutrals, layout, cancellation);
            ofLight = (light + layout.Known(neutrals, width, departure).SubMatrix(0, layout.Tone, 0, layout.Tone)).Inverse();
            follows = -ofLight * squares.SubMatrix(0, layout.Tone, layout.Tone, ToneCurve.Knots);
            mean.SetSubVector(0, layout.Tone, ofLight * bound);
        }
        while (++round < Rounds);

        var covariance = Matrix<double>.Build.Dense(layout.Count, layout.Count);
        covariance.SetSubMatrix(0, 0, ofLight + (follows * ofTone * follows.Transpose()));
        covariance.SetSubMatrix(0, layout.Tone, follows * ofTone);
        covariance.SetSubMatrix(layout.Tone, 0, ofTone * follows.Transpose());
        covariance.SetSubMatrix(layout.Tone, layout.Tone, ofTone);
        return new LightField(layout, mean, covariance, departure);
    }

    /// <summary>What a block's light is multiplied by, so that it is as under the light of the first neutral and without the camera's tone curve.</summary>
    public LinearRgb Correction(Block block)
    {
        double At(int channel)
        {
            var picture = Log(block.Mean, channel);
            return Math.Exp(_layout.Scene(picture, _mean) - _layout.Light(block.Centre, channel, _mean) - picture);
        }

        return new LinearRgb(At(0), At(1), At(2));
    }

    /// <summary>The uncertainty of the corrections of several places as independent factors, those of the tone curve first, each kind with the largest first.</summary>
    /// <param name="patches">The places of each patch, with the light that the picture has there; a patch is the mean of its places.</param>
    public ImmutableArray<FieldFactor> Factors(IReadOnlyList<ImmutableArray<Block>> patches)
    {
        ArgumentNullException.ThrowIfNull(patches);
        Vector<double> Doubt(ImmutableArray<Block> places, int channel) => places.Select(b => _layout.Doubt(b.Centre, Log(b.Mean, channel), channel, _mean)).Aggregate((a, b) => a + b) / places.Length;
        double Left(ImmutableArray<Block> first, ImmutableArray<Block> second) => first.Average(a => second.Average(b => _layout.Left(a.Centre, b.Centre)));
        var rows = Matrix<double>.Build.DenseOfRowVectors([.. patches.SelectMany(p => Enumerable.Range(0, 3).Select(c => Doubt(p, c)))]);
        var all = rows * _covariance * rows.Transpose();
        var withTone = (rows * _covariance).SubMatrix(0, rows.RowCount, _layout.Tone, ToneCurve.Knots);
        var tone = _covariance.SubMatrix(_layout.Tone, ToneCurve.Knots, _layout.Tone, ToneCurve.Knots);
        var ofTone = withTone * tone.Solve(withTone.Transpose());
        var left = Matrix<double>.Build.Dense(patches.Count, patches.Count, (i, j) => Left(patches[i], patches[j]));
        var apart = Matrix<double>.Build.Dense(rows.RowCount, rows.RowCount, (i, j) => _departure * _departure * left[i / 3, j / 3]);
        return [.. Factors(ofTone, isTone: true), .. Factors(all - ofTone + apart, isTone: false)];
    }

    private static IEnumerable<FieldFactor> Factors(Matrix<double> covariance, bool isTone)
    {
        var evd = ((covariance + covariance.Transpose()) / 2).Evd(Symmetricity.Symmetric);
        var most = evd.EigenValues[^1].Real;
        return Enumerable.Range(0, covariance.RowCount)
            .Reverse()
            .Where(k => evd.EigenValues[k].Real > Math.Max(1e-12, 1e-5 * most))
            .Select(k => (Vector: evd.EigenVectors.Column(k), Size: -Math.Sqrt(evd.EigenValues[k].Real)))
            .Select(f => new FieldFactor(isTone, [.. Enumerable.Range(0, covariance.RowCount / 3).Select(p => new LinearRgb(f.Size * f.Vector[3 * p], f.Size * f.Vector[(3 * p) + 1], f.Size * f.Vector[(3 * p) + 2]))]));
    }

    /// <summary>The width of the prior and the departure that make what the neutrals show likeliest, the tone curve held. One neutral says nothing of departures.</summary>
    private static (double Width, double Departure) Likeliest(Matrix<double> squares, Vector<double> right, IReadOnlyList<NeutralPatch> neutrals, FieldLayout layout, CancellationToken cancellation) =>
        neutrals.Count == 0 ? (Widths[0], Departures[0]) : Widths.SelectMany(w => Departures.Take(neutrals.Count > 1 ? Departures.Length : 1).Select(d => (Width: w, Departure: d))).MaxBy(p =>
        {
            cancellation.ThrowIfCancellationRequested();
            var factor = (squares + layout.Known(neutrals, p.Width, p.Departure).SubMatrix(0, layout.Tone, 0, layout.Tone)).Cholesky();
            return (0.5 * right.DotProduct(factor.Solve(right))) - (0.5 * factor.DeterminantLn) - layout.LogVolume(p.Width, p.Departure);
        });

    internal static double Log(LinearRgb light, int channel) => Math.Log(Math.Max(1e-5, channel switch { 0 => light.Red, 1 => light.Green, _ => light.Blue }));
}
