using System.Collections.Immutable;
using System.Globalization;
using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.LinearAlgebra.Double;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Datum;

/// <summary>
/// The inputs of a mapping that was found in the picture. The fit is linear in what it rests on at the size of its uncertainties, so each independent input
/// (the edges that were seen, what was known of focal length and lens, the readings of the check bars, the paper) moves the parameters along one direction.
/// </summary>
/// <remarks>
/// With the covariance C, the information of the sightings A and a prior of variance u^2 on a parameter p: moving the prior by u moves the fit by column p of C over u;
/// the sightings move it with covariance C A C, whose principal directions stand as causes of their own, as far as they move anything in the picture.
/// </remarks>
internal sealed class FoundInputs : IUncertainInputs
{
    // Directions that move no place of the print by this much in the picture are left out.
    private const double LeastPx = 0.002;

    private readonly PlaneView _view;
    private readonly double _heightMm;
    private readonly List<(UncertainInput Input, double[] Move, double HeightMm)> _inputs = [];

    private FoundInputs(PrintedScale scale, DatumFound found, string photo)
    {
        _view = found.View;
        _heightMm = scale.PlaneHeightMm?.Value ?? 0;
        ClickSigmaPx = scale.ClickSigmaPx;
        var covariance = found.Fitted.Covariance;
        Seen(found, photo);
        Prior($"focal-length:{photo}", PlaneView.Focal);
        Prior($"lens-k1:{photo}", PlaneView.K1);
        Prior($"lens-k2:{photo}", PlaneView.K2);
        Prior($"optical-centre-x:{photo}", PlaneView.CentreX);
        Prior($"optical-centre-y:{photo}", PlaneView.CentreY);
        var (along, across) = KnownBefore.Stretch(scale);

        // Of one print in several photographs, what it is off by is the same in all.
        var print = scale.Sheet ?? photo;
        Move($"scale-x:{print}", (PlaneView.ScaleX, along.OfPaper));
        Move($"scale-y:{print}", (PlaneView.ScaleY, across.OfPaper));
        Move($"check-bar:{print}", (PlaneView.ScaleX, along.OfAlong), (PlaneView.ScaleY, across.OfAlong));
        Move($"check-bar-across:{print}", (PlaneView.ScaleX, along.OfAcross), (PlaneView.ScaleY, across.OfAcross));
        if (scale.PlaneHeightMm is { StandardUncertainty: > 0 } height)
        {
            _inputs.Add((UncertainInput.Of(height, $"plane-height:{photo}"), new double[_view.Parameters], height.StandardUncertainty));
        }

        Assumptions = [.. Words(scale, found, photo)];

        void Prior(string cause, int parameter) => Move(cause, (parameter, found.Prior.Uncertainty[parameter]));

        void Move(string cause, params (int Parameter, double By)[] priors)
        {
            var move = new double[_view.Parameters];
            foreach (var (parameter, by) in priors.Where(p => p.By > 0))
            {
                var variance = found.Prior.Uncertainty[parameter] * found.Prior.Uncertainty[parameter];
                for (var i = 0; i < move.Length; i++)
                {
                    move[i] += covariance[i, parameter] * by / variance;
                }
            }

            if (move.Any(m => m != 0))
            {
                _inputs.Add((UncertainInput.Of(cause), move, 0));
            }
        }
    }

    public ImmutableArray<UncertainInput> Causes => [.. _inputs.Select(i => i.Input)];

    public ImmutableArray<string> Assumptions { get; }

    public double ClickSigmaPx { get; }

    /// <exception cref="ScaleException">The measured plane lies behind the camera.</exception>
    public static FoundInputs Of(PrintedScale scale, DatumFound found, string photo) => new(scale, found, photo);

    public IPlaneMap Build(double[] z)
    {
        var move = new double[_view.Parameters];
        var height = _heightMm;
        for (var i = 0; i < z.Length; i++)
        {
            if (z[i] != 0)
            {
                height += z[i] * _inputs[i].HeightMm;
                for (var p = 0; p < move.Length; p++)
                {
                    move[p] += z[i] * _inputs[i].Move[p];
                }
            }
        }

        return new ViewMap(_view.Moved(move), height);
    }

    private void Seen(DatumFound found, string photo)
    {
        var count = _view.Parameters;
        var (c, information) = (found.Fitted.Covariance, found.Fitted.Information.Clone());
        for (var p = 0; p < PlaneView.Common; p++)
        {
            var u = found.Prior.Uncertainty[p];
            if (u > 0 && double.IsFinite(u))
            {
                information[p, p] -= 1 / (u * u);
            }
        }

        // Of the parameters as places in the picture: a length of many units or radians tells nothing.
        var spread = (c * information * c).Evd(Symmetricity.Symmetric);
        Matrix<double> half = DenseMatrix.Create(count, count, (i, j) => spread.EigenVectors[i, j] * Math.Sqrt(Math.Max(0, spread.EigenValues[j].Real)));
        var effect = Effect() * half;
        var svd = effect.Svd();
        var number = 0;
        for (var k = 0; k < Math.Min(count, svd.S.Count); k++)
        {
            if (svd.S[k] / Math.Sqrt(effect.RowCount) > LeastPx)
            {
                number++;
                _inputs.Add((UncertainInput.Of($"edges-{number.ToString(CultureInfo.InvariantCulture)}:{photo}"), (half * svd.VT.Row(k)).ToArray(), 0));
            }
        }
    }

    /// <summary>How places of the measured plane move in the picture with each parameter: a grid over the print and around it.</summary>
    private DenseMatrix Effect()
    {
        const int grid = 5;
        const double extentMm = 300;
        var effect = DenseMatrix.Create(2 * grid * grid, _view.Parameters, 0);
        var by = new double[_view.Parameters];
        for (var p = 0; p < by.Length; p++)
        {
            const double step = 1e-6;
            by[p] = step;
            var plus = _view.Moved(by);
            by[p] = -step;
            var minus = _view.Moved(by);
            by[p] = 0;
            for (var i = 0; i < grid * grid; i++)
            {
                var place = new PlanePoint(extentMm * (i % grid) / (grid - 1), extentMm * (i / grid) / (grid - 1));
                var (a, b) = (plus.Picture(place, _heightMm), minus.Picture(place, _heightMm));
                var known = double.IsFinite(a.X) && double.IsFinite(b.X);
                effect[2 * i, p] = known ? (a.X - b.X) / (2 * step) : 0;
                effect[(2 * i) + 1, p] = known ? (a.Y - b.Y) / (2 * step) : 0;
            }
        }

        return effect;
    }

    private static IEnumerable<string> Words(PrintedScale scale, DatumFound found, string photo)
    {
        yield return $"Found in {photo}: {found.Words}";
        yield return string.Create(CultureInfo.InvariantCulture, $"Focal length {found.FocalLengthPx:0} px, give or take {found.FocalUncertaintyPx:0} px, {FocalWords(scale, found)}; lens k1 {found.Lens.K1:0.000}, k2 {found.Lens.K2:0.000}; the picture is not cropped.");
        var read = scale.CheckBarMm is not null || scale.CheckBarAcrossMm is not null;
        var paper = string.Create(CultureInfo.InvariantCulture, $"{scale.ScaleUncertaintyPct:0.##} % along each axis (standard uncertainty)");
        if (scale.CheckBarMm is null && scale.CheckBarAcrossMm is null && scale.ScaleUncertaintyPct > 0)
        {
            yield return $"No check bar of the print in {photo} was read: printer and paper are taken to be right to {paper}.";
        }
        else if (read && (scale.CheckBarMm is null || scale.CheckBarAcrossMm is null) && scale.ScaleUncertaintyPct > 0)
        {
            yield return $"One check bar of the print in {photo} was read: the other direction is taken to be the same to {paper}.";
        }

        if (read && (scale.CheckBarMm is { StandardUncertainty: 0 } || scale.CheckBarAcrossMm is { StandardUncertainty: 0 }))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"A check bar is taken to be read to {KnownBefore.RuleMm:0.0} mm (standard uncertainty).");
        }

        if (scale.PlaneHeightMm is null)
        {
            yield return scale is CardsScale
                ? $"What is measured in {photo} is taken to lie in the plane of the cards; each millimetre above it would add about 0.2 % at 500 mm."
                : $"What is measured in {photo} is taken to lie in the plane of the scale; each millimetre above it would add about 0.2 % at 500 mm.";
        }
    }

    private static string FocalWords(PrintedScale scale, DatumFound found) => scale.FocalLengthPx is not null
        ? "from what was stated and the view"
        : found.Prior.Uncertainty[PlaneView.Focal] < 0.15 ? "from the file and the view"
        : found.FocalUncertaintyPx < 0.05 * found.FocalLengthPx ? "from the view"
        : "from that of a usual phone camera and the view, which says little of it at this tilt";
}
