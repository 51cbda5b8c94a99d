using System.Collections.Immutable;
using Pairbench.Footwear.Plots;
using static Pairbench.Footwear.Plain;

namespace Pairbench.Footwear.Hardness;

/// <summary>The indenters of the scales that were read, all at one scale of drawing, so that the person sees which gauge is meant.</summary>
public static class ProbePlate
{
    private const double PerMm = 16;
    private const double Column = 225;
    private const double Foot = 96;
    private const double Shaft = 3.4;

    /// <summary>Two gauges are called C: where one of them was read, the other stands beside it, struck out.</summary>
    /// <param name="scales">Scales that were read.</param>
    public static Plate Of(Catalogue catalogue, IEnumerable<HardnessScale> scales)
    {
        ArgumentNullException.ThrowIfNull(catalogue);
        var springs = catalogue.Read<SpringsFile>(SpringsFile.File);
        var facts = catalogue.Read<ScalesFile>(ScalesFile.File).Scales;
        ImmutableArray<HardnessScale> read = [.. scales.Distinct().Order()];
        ImmutableArray<(HardnessScale Scale, bool Read)> shown = [.. read.Concat(Others(read)).Select(s => (s, read.Contains(s)))];
        var drawing = new SvgSheet();
        foreach (var ((scale, isRead), i) in shown.Select((s, i) => (s, i)))
        {
            Draw(drawing, 10 + (i * Column), facts.Single(f => f.Scale == scale).Label, springs.Of(scale), isRead);
        }

        string Said((HardnessScale Scale, bool Read) s) => $"{facts.Single(f => f.Scale == s.Scale).Label}: {springs.Of(s.Scale).Tip.Words}{(s.Read ? "" : ", not read here")}";
        return drawing.Plate("probes", $"Indenters at one scale. {string.Join("; ", shown.Select(Said))}.", 20 + (shown.Length * Column), 214);
    }

    /// <summary>Whether another gauge goes by the same letter, so that a person has to be asked which is meant.</summary>
    public static bool HasNamesake(HardnessScale scale) => Others([scale]).Any();

    private static IEnumerable<HardnessScale> Others(ImmutableArray<HardnessScale> read) => (read.Contains(HardnessScale.JisC), read.Contains(HardnessScale.AstmC)) switch
    {
        (true, false) => [HardnessScale.AstmC],
        (false, true) => [HardnessScale.JisC],
        _ => [],
    };

    private static void Draw(SvgSheet drawing, double left, string label, SpringLaw spring, bool isRead)
    {
        var (ink, fill) = isRead ? (SvgSheet.Ink, "#d9cdb8") : (SvgSheet.Hairline, "none");
        var (middle, low) = (left + 82, Foot + (spring.ProtrusionMm * PerMm));
        drawing.Words(left, 18, label, ink, strong: isRead, most: 34);
        drawing.Words(left, 34, isRead ? spring.Tip.Words : "not read here: another instrument", isRead ? SvgSheet.Quiet : SvgSheet.Hairline, most: 38);
        var tall = spring.ProtrusionMm + Shaft;
        var right = Enumerable.Range(0, 61).Select(k => tall * k / 60).Select(h => (X: spring.Tip.HalfWidthMm(h) * PerMm, Y: low - (h * PerMm))).ToList();
        drawing.Path([.. right.AsEnumerable().Reverse().Select(p => (middle - p.X, p.Y)), .. right.Select(p => (middle + p.X, p.Y))], ink, isRead ? 1.3 : 0.8, isRead ? "" : "3 3", fill);

        // The foot, cut open about the hole that the indenter stands out of.
        var hole = (spring.Tip.HalfWidthMm(tall) * PerMm) + 8;
        foreach (var side in new[] { -1, 1 })
        {
            drawing.Path([(middle + (side * hole), Foot - 40), (middle + (side * hole), Foot), (middle + (side * 80), Foot), (middle + (side * 80), Foot - 40)], ink, isRead ? 1 : 0.7);
        }

        var at = middle + 88;
        drawing.Line(middle + 50, low, at + 5, low, SvgSheet.Hairline);
        drawing.Line(at, Foot, at, low, SvgSheet.Quiet);
        drawing.Words(at + 6, ((Foot + low) / 2) + 4, Number(spring.ProtrusionMm), SvgSheet.Quiet);
        drawing.Words(left, 168, $"stands out {Number(spring.ProtrusionMm)} mm at 0, level at 100", ink, most: 40);
        drawing.Words(left, 184, $"spring {Number(spring.ForceN(0))} N at 0, {Number(spring.ForceN(100))} N at 100", ink, most: 40);
        if (!isRead)
        {
            drawing.Line(left, 40, left + 170, 150, SvgSheet.Quiet, 1.2);
        }
    }
}
