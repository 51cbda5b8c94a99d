using Pairbench.Footwear;
using Pairbench.Measuring;
using Pairbench.Reporting.Pdf;

namespace Pairbench.Reporting.Tests;

/// <summary>Where a figure's row has what, without a page.</summary>
public sealed class FigureRowLayoutTests : IDisposable
{
    private readonly PdfFonts _fonts = new();

    public void Dispose() => _fonts.Dispose();

    [Fact]
    public void Decimal_points_stand_below_each_other()
    {
        var rows = new[] { "5.2", "123.4", "-0.1" }.Select(v => Of(Figure(double.Parse(v, System.Globalization.CultureInfo.InvariantCulture), 0.2)).Value).ToList();
        Assert.All(rows, r => Assert.Equal(FigureRowLayout.Point, r.X + _fonts.Width(r.Text.Split('.')[0], r.Style), 3));
        Assert.Equal(3, rows.Select(r => r.X).Distinct().Count());
    }

    [Fact]
    public void A_unit_stands_beside_the_uncertainty_where_it_fits_and_else_below_it()
    {
        var (beside, below) = (Of(Figure(5.2, 0.2)).Uncertainty, Of(Figure(5.2, 0.2, "J/(kg.K.m.s.mol.cd)")).Uncertainty);
        Assert.Equal(beside[0].Y, beside[1].Y);
        Assert.True(beside[1].X > beside[0].X + _fonts.Width(beside[0].Text, beside[0].Style));
        Assert.True(below[1].Y > below[0].Y);
        Assert.Equal(below[0].X, below[1].X);
    }

    [Fact]
    public void The_longest_column_makes_the_height_and_the_others_stand_in_its_middle()
    {
        var (plain, said) = (Of(Figure(5.2, 0.2)), Of(Figure(5.2, 0.2) with { Limit = new Limit(5, 6, Severity.Major, string.Join(' ', Enumerable.Repeat("agreed for this style", 12))) }));
        Assert.Null(plain.Ruling);
        Assert.True(said.Height > plain.Height + 20);
        Assert.Equal(said.Height / 2, said.Name[0].Y - said.Name[0].Style.Size + (said.Name[0].Style.LineHeight / 2), 3);
        Assert.Equal(said.Height / 2, said.Bar!.Y + (said.Bar.Bar.Height / 2), 3);
    }

    [Fact]
    public void Where_it_belongs_takes_the_place_of_the_source_of_its_limit()
    {
        var figure = Figure(5.2, 0.2) with { Limit = new Limit(5, 6, Severity.Major, "Order 4711") };
        Assert.Contains(Of(figure).Ruling!.Says, s => s.Text == "Order 4711");
        Assert.DoesNotContain(Of(figure, "Hardness").Ruling!.Says, s => s.Text == "Order 4711");
        Assert.Contains(Of(figure, "Hardness").Name, n => n.Text == "Hardness");
    }

    [Fact]
    public void Nothing_stands_outside_its_row_or_in_the_next_column()
    {
        foreach (var figure in InventedReview.Outcomes.SelectMany(o => o.Figures))
        {
            var row = Of(figure);
            Assert.All([.. row.Name, row.Value, .. row.Uncertainty.Take(1), .. row.Ruling?.Says ?? []], t => Assert.InRange(t.Y, t.Style.Size, row.Height));
            Assert.All(row.Name, n => Assert.True(n.X + _fonts.Width(n.Text, n.Style) <= FigureRowLayout.NameWidth + 0.01, n.Text));
            Assert.All(row.Ruling?.Says ?? [], s => Assert.True(s.X + _fonts.Width(s.Text, s.Style) <= PdfSheet.Width + 0.01, s.Text));
        }
    }

    private FigureRowLayout Of(Figure figure, string context = "") => FigureRowLayout.Of(new ReportFigure(figure, new EntryAddress("made-up", "main").Of("length"), "at-length", context), _fonts);

    private static Figure Figure(double value, double u, string unit = "mm") => new("length", "Length", Measured.Of(value, unit, "readings", u));
}
