using System.Globalization;
using CsCheck;
using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Reporting.Tests;

public class FiguresCsvTests
{
    [Fact]
    public void Reads_back_as_it_was() => Gen.Select(Gen.String[Gen.Char[' ', '~'], 0, 20], Gen.Double[-1e9, 1e9], Gen.Double[1e-9, 1e3]).Sample((label, value, u) =>
    {
        var outcome = new Outcome { Examination = "readings", Figures = [new Figure("a.b", label, Measured.Of(value, "mm", "c", u), new Limit(value - 1, null, Severity.Minor, "a, \"b\"\r\nc"))] };
        var rows = Read(FiguresCsv.Write([outcome]));
        Assert.Equal(2, rows.Count);
        var row = rows[0].Zip(rows[1]).ToDictionary(c => c.First, c => c.Second);
        Assert.Equal(label, row["label"].StartsWith('\'') && !label.StartsWith('\'') ? row["label"][1..] : row["label"]);
        Assert.Equal(value, double.Parse(row["value"], CultureInfo.InvariantCulture));
        Assert.Equal(u, double.Parse(row["standardUncertainty"], CultureInfo.InvariantCulture));
        Assert.Equal("", row["degreesOfFreedom"]);
        Assert.Equal("a, \"b\"\nc", row["limitSource"]);
    });

    [Theory]
    [InlineData("=1+1")]
    [InlineData("+1")]
    [InlineData("-1")]
    [InlineData("@SUM(A1)")]
    [InlineData("  =1")]
    [InlineData("\t=1")]
    public void A_text_is_never_a_formula(string label)
    {
        var rows = Read(FiguresCsv.Write([new Outcome { Examination = "readings", Figures = [new Figure("a", label, Measured.Exact(-5, "mm"))] }]));
        Assert.StartsWith("'", rows[1][3], StringComparison.Ordinal);
        Assert.Equal("-5", rows[1][4]);
    }

    /// <summary>Beside a limit stands what it was held against: the mean of the pieces alone would not say why it was broken.</summary>
    [Fact]
    public void The_worst_piece_stands_beside_the_ruling()
    {
        var mean = new Figure("cracks", "Cracks", Measured.Of(0.2, "1", "readings:main/cracks", 0.2, Evaluation.TypeA, 9)) { Pieces = [0, 0, 0, 0, 0, 0, 0, 0, 0, 2] };
        var ruled = mean with { Limit = new Limit(null, 1, Severity.Major, "made up") };
        string Worst(Figure figure) => Read(FiguresCsv.Write([new Outcome { Examination = "readings", Figures = [figure] }]))[1][^1];

        Assert.Equal(("", "2"), (Worst(mean), Worst(ruled)));
        Assert.Contains("worst of 10 pieces: 2; limit at most 1; outside", Bars.LimitBarSvg.Words(ruled), StringComparison.Ordinal);
        Assert.Equal("2", Bars.LimitBarGeometry.Of(ruled, Bars.BarSize.Row).Dots[0].Value.Measured.Value.ToString(CultureInfo.InvariantCulture));
        var line = Assert.Single(CorrectionSheets.CorrectionSheet.Of(new Examined([new Outcome { Examination = "readings", Figures = [ruled] }], InventedReview.Examined.Verdict), InventedReview.Review).Lines);
        Assert.Equal("2", line.Measured);
    }

    [Fact]
    public void Holds_every_figure_of_every_outcome() =>
        Assert.Equal(1 + InventedReview.Outcomes.Sum(o => o.Figures.Length), Read(FiguresCsv.Write(InventedReview.Outcomes)).Count);

    /// <summary>A reader by RFC 4180, 2.</summary>
    private static List<List<string>> Read(string csv)
    {
        var rows = new List<List<string>> { new() };
        var cell = new System.Text.StringBuilder();
        var quoted = false;
        for (var i = 0; i < csv.Length; i++)
        {
            switch (csv[i])
            {
                case '"' when quoted && i + 1 < csv.Length && csv[i + 1] == '"':
                    cell.Append('"');
                    i++;
                    break;
                case '"':
                    quoted = !quoted;
                    break;
                case ',' when !quoted:
                    rows[^1].Add(cell.ToString());
                    cell.Clear();
                    break;
                case '\r' when !quoted:
                    Assert.Equal('\n', csv[++i]);
                    rows[^1].Add(cell.ToString());
                    cell.Clear();
                    rows.Add([]);
                    break;
                default:
                    cell.Append(csv[i]);
                    break;
            }
        }

        Assert.False(quoted);
        Assert.Empty(rows[^1]);
        rows.RemoveAt(rows.Count - 1);
        return rows;
    }
}
