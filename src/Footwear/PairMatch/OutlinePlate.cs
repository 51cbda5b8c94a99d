using System.Globalization;
using Pairbench.Footwear.Plots;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>The outline of the left shoe with the difference to the mirrored right one drawn square to it, many times too large.</summary>
internal static class OutlinePlate
{
    private const string LeftOut = "#a3541a";
    private const string RightOut = "#3a4a8c";
    private const double Width = 640;
    private const double Air = 56;
    private const double LongestWhisker = 44;

    /// <param name="largest">Of all places, with what is known of it.</param>
    public static Plate Of(OutlineMap map, Measured largest)
    {
        var (x0, x1) = (map.Places.Min(p => p.Place.X), map.Places.Max(p => p.Place.X));
        var (y0, y1) = (map.Places.Min(p => p.Place.Y), map.Places.Max(p => p.Place.Y));
        var scale = Math.Min((Width - (2 * Air)) / Math.Max(x1 - x0, 1), 420 / Math.Max(y1 - y0, 1));
        var aside = (Width - (scale * (x1 - x0))) / 2;
        var larger = Larger(Math.Abs(map.Largest.Difference.Value) * scale);
        (double X, double Y) On(PlanePoint p) => (aside + (scale * (p.X - x0)), Air + 24 + (scale * (p.Y - y0)));
        var sheet = new SvgSheet();
        foreach (var place in map.Places)
        {
            var difference = place.Difference.Value;
            var (x, y) = On(place.Place);
            var far = difference * scale * larger;
            var ink = Math.Abs(difference) <= place.Difference.ExpandedUncertainty() ? SvgSheet.Hairline : difference > 0 ? LeftOut : RightOut;
            sheet.Line(x, y, x + (far * place.Outward.X), y + (far * place.Outward.Y), ink, 2.2);
        }

        sheet.Path(map.Places.Append(map.Places[0]).Select(p => On(p.Place)));
        var (lx, ly) = On(map.Largest.Place);
        sheet.Dot(lx, ly, 4, "none");
        var (from, to) = (largest.CoverageInterval().Lower, largest.CoverageInterval().Upper);
        var words = string.Create(CultureInfo.InvariantCulture, $"largest {largest.Value:+0.00;-0.00}, from {from:+0.00;-0.00;0.00} to {to:+0.00;-0.00;0.00} mm, at the ring");
        sheet.Words(16, 20, "left shoe stands out", LeftOut, strong: true);
        sheet.Words(156, 20, "right shoe stands out (inwards)", RightOut, strong: true);
        sheet.Words(372, 20, "no larger than its uncertainty", SvgSheet.Quiet);
        var foot = Air + 24 + (scale * (y1 - y0)) + Air;
        sheet.Words(16, foot, string.Create(CultureInfo.InvariantCulture, $"differences drawn {larger * 1.0:0.#} times as large as the shoe"), SvgSheet.Quiet, most: 90);
        sheet.Words(Width - 16, foot, words, anchor: "end", most: 90);
        return sheet.Plate("outline-map", $"The left outline against that of the mirrored right shoe; {words}", Width, foot + 14);
    }

    /// <summary>How many times too large: a round number that keeps the largest within its room.</summary>
    private static double Larger(double longest)
    {
        double[] round = [1, 2, 5, 10, 20, 50];
        return round.LastOrDefault(r => r * longest <= LongestWhisker, 1);
    }
}
