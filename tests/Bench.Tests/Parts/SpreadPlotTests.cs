using Bunit;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;

namespace Pairbench.Bench.Tests.Parts;

public sealed class SpreadPlotTests : BunitContext
{
    [Fact]
    public void Says_what_it_shows()
    {
        var plot = Render<SpreadPlot>(p => p.Add(x => x.Values, [60, 64, 61]).Add(x => x.Unit, "Shore A"));
        Assert.Equal("3 readings from 60 to 64 Shore A, median 61", plot.Find("svg").GetAttribute("aria-label"));
        Assert.Equal(3, plot.FindAll("circle").Count);
    }

    [Fact]
    public void Nothing_is_drawn_before_the_first_reading() =>
        Assert.Empty(Render<SpreadPlot>(p => p.Add(x => x.Values, [])).FindAll("svg"));

    [Fact]
    public void Equal_readings_stay_on_the_plot()
    {
        var plot = Render<SpreadPlot>(p => p.Add(x => x.Values, [50, 50, 50]));
        Assert.All(plot.FindAll("circle"), c => Assert.InRange(double.Parse(c.GetAttribute("cx")!, System.Globalization.CultureInfo.InvariantCulture), 8, 392));
    }

    [Fact]
    public void Every_page_of_an_examination_names_one_that_exists_and_takes_the_sheet()
    {
        Assert.NotEmpty(ExaminationPage.All);
        Assert.All(ExaminationPage.All, page => Assert.NotNull(page.Component.GetProperty("Sheet")));
        Assert.Equal(ExaminationPage.All.Length, ExaminationPage.All.Select(p => p.About.Examination).Distinct().Count());
        Assert.All(ExaminationPage.All.Where(p => p.About.Examination != "underfoot"), page => Assert.NotNull(Examination.Named(page.About.Examination)));
    }
}
