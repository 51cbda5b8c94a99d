using System.Text.Json;
using Pairbench.Imaging.Colour;

namespace Pairbench.Reference.Imaging;

/// <summary>Colour against published values; each row of the data file says where it is from.</summary>
public sealed class ColourTests
{
    private static readonly JsonElement Data = Read();

    public static IEnumerable<TheoryDataRow<int>> Pairs => Enumerable.Range(1, 34).Select(i => new TheoryDataRow<int>(i));

    /// <remarks>Sharma, Wu and Dalal 2005, table 1: 23 pairs seen, 11 from memory.</remarks>
    [Theory]
    [MemberData(nameof(Pairs))]
    public void Ciede2000_to_four_decimals(int number)
    {
        var row = Data.GetProperty("ciede2000").GetProperty("pairs").EnumerateArray().Single(p => p.GetProperty("pair").GetInt32() == number);
        Lab first = LabOf(row.GetProperty("lab1")), second = LabOf(row.GetProperty("lab2"));
        var published = row.GetProperty("deltaE00").GetDouble();
        Assert.Equal(published, Ciede2000.Between(first, second), 0.00006);
        Assert.Equal(published, Ciede2000.Between(second, first), 0.00006);
        var many = new double[5];
        Ciede2000.Between([first, first, second, second, first], [second, second, first, first, second], many);
        Assert.All(many, m => Assert.Equal(published, m, 0.00006));
    }

    /// <remarks>Computed elsewhere with the same matrix (D65), and by Bradford to D50.</remarks>
    [Fact]
    public void Srgb_to_lab()
    {
        foreach (var row in Data.GetProperty("workedSrgb").GetProperty("rows").EnumerateArray())
        {
            var rgb = row.GetProperty("rgb8").EnumerateArray().Select(v => Srgb.ToLinear(v.GetDouble() / 255)).ToArray();
            var light = new LinearRgb(rgb[0], rgb[1], rgb[2]);
            Near(LabOf(row.GetProperty("labD65")), Srgb.ToLab(light), 0.0006);
            Near(LabOf(row.GetProperty("labD50")), Srgb.ToLab(light, ReferenceWhite.D50), 0.005);
        }
    }

    /// <remarks>Values seen in a public colour library.</remarks>
    [Fact]
    public void Srgb_to_xyz_under_d50()
    {
        foreach (var row in Data.GetProperty("bradford").GetProperty("seenChecks").EnumerateArray())
        {
            var rgb = row.GetProperty("srgb").EnumerateArray().Select(v => Srgb.ToLinear(v.GetDouble())).ToArray();
            var expected = row.GetProperty("xyzD50").EnumerateArray().Select(v => v.GetDouble()).ToArray();
            var xyz = Srgb.ToXyz(new LinearRgb(rgb[0], rgb[1], rgb[2]), ReferenceWhite.D50);
            for (var i = 0; i < 3; i++)
            {
                Assert.Equal(expected[i], xyz[i], 2e-5);
            }
        }
    }

    /// <remarks>Grade by ISO 105-A05, computed elsewhere.</remarks>
    [Fact]
    public void Grey_scale_examples()
    {
        foreach (var row in Data.GetProperty("a05").GetProperty("examples").EnumerateArray())
        {
            var difference = GreyScale.Difference(LabOf(row.GetProperty("lab1")), LabOf(row.GetProperty("lab2")));
            Assert.Equal(row.GetProperty("dEF").GetDouble(), difference, 2e-6);
            Assert.Equal(row.GetProperty("GSc").GetDouble(), GreyScale.Grade(difference), 2e-6);
            Assert.Equal(row.GetProperty("step").GetString(), GreyScale.Step(difference));
        }
    }

    /// <remarks>ISO 105-A02, seen twice: greys apart by each step's difference get that step.</remarks>
    [Fact]
    public void Steps_of_the_grey_scale()
    {
        foreach (var row in Data.GetProperty("a02").GetProperty("rows").EnumerateArray())
        {
            var step = row.GetProperty("deltaEab").GetDouble();
            var difference = GreyScale.Difference(new Lab(50, 0, 0), new Lab(50 + step, 0, 0));
            Assert.Equal(row.GetProperty("grade").GetString(), GreyScale.Step(difference));
        }
    }

    /// <remarks>What noise of 0.3 in each coordinate of both colours makes equal ones read, computed elsewhere by 20 000 trials: 0.492.</remarks>
    [Fact]
    public void Equal_colours_read_apart_by_their_noise()
    {
        var row = Data.GetProperty("noiseBias").GetProperty("rows")[0];
        var noise = 0.3 * Math.Sqrt(2);
        DifferenceShift[] shifts = [new("l", new Lab(noise, 0, 0), double.PositiveInfinity), new("a", new Lab(0, noise, 0), double.PositiveInfinity), new("b", new Lab(0, 0, noise), double.PositiveInfinity)];
        var (_, equal) = DifferenceKnowledge.Of(Ciede2000.Between, new Lab(45, 20, -15), default, [.. shifts]);
        Assert.Equal(row.GetProperty("meanMeasured").GetDouble(), equal, 0.02);
    }

    /// <remarks>What one step of a stored picture moves a grey, computed elsewhere.</remarks>
    [Fact]
    public void One_step_of_eight_bits()
    {
        foreach (var row in Data.GetProperty("quantisation").GetProperty("rows").EnumerateArray())
        {
            var grey = row.GetProperty("grey").GetInt32();
            var from = Grey(0, 0, 0);
            Assert.Equal(row.GetProperty("dE00_one_step_all").GetDouble(), Ciede2000.Between(from, Grey(1, 1, 1)), 0.0005);
            Assert.Equal(row.GetProperty("dE00_one_step_red").GetDouble(), Ciede2000.Between(from, Grey(1, 0, 0)), 0.0005);
            Assert.Equal(row.GetProperty("dE00_one_step_blue").GetDouble(), Ciede2000.Between(from, Grey(0, 0, 1)), 0.0005);

            Lab Grey(int red, int green, int blue) => Srgb.ToLab(new LinearRgb(Srgb.ToLinear((grey + red) / 255.0), Srgb.ToLinear((grey + green) / 255.0), Srgb.ToLinear((grey + blue) / 255.0)));
        }
    }

    /// <remarks>24 colours as real materials have them, in two issues of one chart; values seen, the differences computed elsewhere.</remarks>
    [Fact]
    public void Two_issues_of_a_chart()
    {
        var chart = Data.GetProperty("chartIssues");
        var differences = chart.GetProperty("rows").EnumerateArray().Select(r => (Stated: r.GetProperty("deltaE00olderToNewer").GetDouble(), Ours: Ciede2000.Between(LabOf(r.GetProperty("labOlder")), LabOf(r.GetProperty("labNewer"))))).ToList();
        Assert.Equal(24, differences.Count);
        Assert.All(differences, d => Assert.Equal(d.Stated, d.Ours, 0.0006));
        Assert.Equal(chart.GetProperty("meanDeltaE00").GetDouble(), differences.Average(d => d.Ours), 0.0006);
    }

    private static void Near(Lab expected, Lab actual, double within)
    {
        Assert.Equal(expected.L, actual.L, within);
        Assert.Equal(expected.A, actual.A, within);
        Assert.Equal(expected.B, actual.B, within);
    }

    private static Lab LabOf(JsonElement e) => new(e[0].GetDouble(), e[1].GetDouble(), e[2].GetDouble());

    private static JsonElement Read()
    {
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Imaging", "data", "colour.json")));
        return document.RootElement.Clone();
    }
}
