using System.Collections.Immutable;
using System.Xml.Linq;
using CsCheck;
using Pairbench.Footwear;
using Pairbench.Measuring;
using Pairbench.Reporting.Bars;

namespace Pairbench.Reporting.Tests;

public class LimitBarTests
{
    private static readonly Gen<double> Value = Gen.OneOf(Gen.Double[-1e6, 1e6], Gen.Double[-1, 1], Gen.Double[0, 100], Gen.Const(0.0));

    private static readonly Gen<Figure> AnyFigure = Gen.Select(Value, Gen.Double[0, 1e4], Value, Gen.Double[0, 1e5], Gen.Int[0, 3], Gen.OneOf(Gen.Const("mm"), Gen.Const("%"), Gen.Const("1"))).Select((value, u, bound, width, kind, unit) =>
        new Figure("id", "Label", u == 0 ? Measured.Exact(value, unit) : Measured.Of(value, unit, "cause", u), kind switch
        {
            0 => null,
            1 => new Limit(bound, null, Severity.Major, ""),
            2 => new Limit(null, bound, Severity.Major, ""),
            _ => new Limit(bound, bound + width, Severity.Major, ""),
        }));

    [Fact]
    public void Everything_lies_on_the_axis_in_the_order_of_its_value() => AnyFigure.Sample(figure =>
    {
        var bar = LimitBarGeometry.Of(figure, BarSize.Row);
        var interval = figure.Measured.CoverageInterval();
        double[] values = [interval.Lower, interval.Upper, figure.Measured.Value, .. bar.Limits.Select(l => l.Value), .. bar.Ticks.Select(t => t.Value)];
        double[] places = [bar.Dots[0].WhiskerFrom, bar.Dots[0].WhiskerTo, bar.Dots[0].X, .. bar.Limits.Select(l => l.X), .. bar.Ticks.Select(t => t.X)];
        Array.Sort(values, places);
        Assert.All(places, p => Assert.InRange(p, bar.AxisFrom - 1e-6, bar.AxisTo + 1e-6));
        Assert.All(places.Zip(places.Skip(1)), p => Assert.True(p.First <= p.Second + 1e-6));
        Assert.InRange(bar.AxisFrom, 0, bar.Width);
        Assert.InRange(bar.AxisTo, bar.AxisFrom, bar.Width);
        Assert.InRange(bar.Dots[0].Y, 0, bar.Height);
    });

    [Fact]
    public void The_axis_has_two_to_twelve_evenly_spaced_ticks() => AnyFigure.Sample(figure =>
    {
        var ticks = LimitBarGeometry.Of(figure, BarSize.Row).Ticks;
        Assert.InRange(ticks.Length, 2, 12);
        var steps = ticks.Zip(ticks.Skip(1), (a, b) => b.Value - a.Value).ToList();
        Assert.All(steps, s => Assert.Equal(steps[0], s, steps[0] * 1e-6));
        var numbers = ticks.Where(t => t.Text.Length > 0).ToList();
        Assert.NotEmpty(numbers);
        Assert.Equal(numbers.Count, numbers.Select(t => t.Text).Distinct().Count());
        Assert.All(numbers.Zip(numbers.Skip(1)), n => Assert.True(n.Second.X - n.First.X > 5 * Math.Max(n.First.Text.Length, n.Second.Text.Length), $"{n}"));
    });

    [Fact]
    public void The_place_on_the_axis_is_linear_in_the_value() => AnyFigure.Sample(figure =>
    {
        var bar = LimitBarGeometry.Of(figure, BarSize.Full);
        var share = (figure.Measured.Value - bar.Range.Lower) / (bar.Range.Upper - bar.Range.Lower);
        Assert.Equal(bar.AxisFrom + (share * (bar.AxisTo - bar.AxisFrom)), bar.Dots[0].X, 1e-6);
    });

    [Fact]
    public void A_percentage_does_not_run_past_its_ends()
    {
        var bar = LimitBarGeometry.Of(new Figure("a", "A", Measured.Of(97, "%", "c", 1)), BarSize.Row);
        Assert.Equal(100, bar.Range.Upper);
        Assert.True(LimitBarGeometry.Of(new Figure("a", "A", Measured.Of(99.5, "%", "c", 1)), BarSize.Row).Range.Upper > 100);
        Assert.Equal(0, LimitBarGeometry.Of(new Figure("a", "A", Measured.Of(1, "mm", "c", 0.4)), BarSize.Row).Range.Lower);
    }

    [Fact]
    public void The_allowed_stretch_runs_from_limit_to_limit_or_to_the_end()
    {
        LimitBarGeometry Bar(Limit? limit) => LimitBarGeometry.Of(new Figure("a", "A", Measured.Of(52, "mm", "c", 1), limit), BarSize.Row);
        var both = Bar(new Limit(50, 60, Severity.Minor, ""));
        Assert.Equal((both.Limits[0].X, both.Limits[1].X), (both.Allowed!.Value.Lower, both.Allowed.Value.Upper));
        var min = Bar(new Limit(50, null, Severity.Minor, ""));
        Assert.Equal((min.Limits[0].X, min.AxisTo), (min.Allowed!.Value.Lower, min.Allowed.Value.Upper));
        var max = Bar(new Limit(null, 60, Severity.Minor, ""));
        Assert.Equal((max.AxisFrom, max.Limits[0].X), (max.Allowed!.Value.Lower, max.Allowed.Value.Upper));
        Assert.Null(Bar(null).Allowed);
    }

    [Fact]
    public void Several_values_share_one_axis_row_by_row()
    {
        ImmutableArray<BarValue> values = [.. Enumerable.Range(0, 5).Select(i => new BarValue($"build {i}", Measured.Of(50 + i, "mm", "c", 0.5), Ruling.Within))];
        var bar = LimitBarGeometry.Of(values, new Limit(48, 55, Severity.Major, ""), BarSize.Full);
        Assert.Equal(5, bar.Dots.Length);
        Assert.All(bar.Dots.Zip(bar.Dots.Skip(1)), d => Assert.True(d.First.X < d.Second.X && d.First.Y < d.Second.Y));
        Assert.All(bar.Dots, d => Assert.InRange(d.Y, 0, bar.AxisY));
        Assert.Throws<ArgumentException>(() => LimitBarGeometry.Of([new BarValue("", Measured.Exact(1, "mm")), new BarValue("", Measured.Exact(1, "%"))], null, BarSize.Row));
        Assert.Throws<ArgumentException>(() => LimitBarGeometry.Of([], null, BarSize.Row));
    }

    [Fact]
    public void An_exact_value_has_no_whisker()
    {
        Assert.False(LimitBarGeometry.Of(new Figure("a", "A", Measured.Exact(5, "1")), BarSize.Row).Dots[0].HasWhisker);
        Assert.Equal(3, XDocument.Parse(LimitBarSvg.Of(new Figure("a", "A", Measured.Of(5, "1", "c", 1)), BarSize.Row)).Descendants().Count(e => e.Name.LocalName == "line" && e.Attribute("stroke")!.Value.Contains("--bar-ink", StringComparison.Ordinal)));
    }

    [Fact]
    public void The_drawing_says_in_words_what_it_shows()
    {
        var figure = new Figure("a", "A <b> & c", Measured.Of(52.31, "%", "c", 0.9), new Limit(50, null, Severity.Major, ""));
        var svg = XDocument.Parse(LimitBarSvg.Of(figure, BarSize.Full)).Root!;
        Assert.Equal("img", svg.Attribute("role")!.Value);
        Assert.Equal("A <b> & c: 52.3 ± 1.8 %; limit at least 50 %; within", svg.Elements().Single(e => e.Name.LocalName == "title").Value);
    }

    [Fact]
    public void Each_ruling_has_a_shape_of_its_own()
    {
        var shapes = Enum.GetValues<Ruling>().Select(r => XDocument.Parse(LimitBarSvg.Shape(r)).Root!.Elements().Single()).ToList();
        Assert.Equal(3, shapes.Select(s => (s.Name.LocalName, s.Attribute("fill")!.Value == "none")).Distinct().Count());
        Assert.All(Enum.GetValues<Ruling>(), r => Assert.Contains(EnumWords.Of(r), LimitBarSvg.Word(r), StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(Palette.Ink)]
    [InlineData(Palette.Quiet)]
    [InlineData(Palette.Accent)]
    [InlineData(Palette.Within)]
    [InlineData(Palette.Outside)]
    [InlineData(Palette.Undecided)]
    public void Ink_has_contrast_on_paper(string colour) => Assert.True(Contrast(colour, Palette.Paper) >= 4.5, $"{Contrast(colour, Palette.Paper)}");

    /// <summary>Contrast ratio and relative luminance by WCAG 2.2, definitions.</summary>
    private static double Contrast(string a, string b)
    {
        var (x, y) = (Luminance(a), Luminance(b));
        return (Math.Max(x, y) + 0.05) / (Math.Min(x, y) + 0.05);
    }

    private static double Luminance(string hex)
    {
        double Linear(int at)
        {
            var c = Convert.ToInt32(hex.Substring(at, 2), 16) / 255.0;
            return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
        }

        return (0.2126 * Linear(1)) + (0.7152 * Linear(3)) + (0.0722 * Linear(5));
    }
}
