using System.Text.Json;
using MathNet.Numerics.Distributions;
using Pairbench.Measuring;

namespace Pairbench.Reference.Measuring;

/// <summary>JCGM 106:2012, ISO 14253-1, ISO 5725 and gauge studies. Sources stand beside the numbers in data/uncertainty.json.</summary>
public sealed class DecisionTests
{
    private static JsonElement Guide => Facts.Uncertainty.At("jcgm106");

    [Fact]
    public void Conformance_of_a_breakdown_voltage()
    {
        var e = Guide.At("examples").Named("id", "JCGM106-7.3.3-ex1");
        var p = new Limit(null, e.At("upper").GetDouble(), Severity.Major, "JCGM 106").Conformance(Measured.Of(e.At("estimate").GetDouble(), "V", "a", e.At("u").GetDouble()));
        Assert.Equal(e.At("publishedConformance").GetDouble(), p, 0.005);
        Assert.Equal(e.At("computedHere").GetDouble(), p, 1e-6);
    }

    [Fact]
    public void Conformance_of_a_bursting_strength()
    {
        var e = Guide.At("examples").Named("id", "JCGM106-7.3.3-ex2");
        var p = new Limit(e.At("lower").GetDouble(), null, Severity.Major, "JCGM 106").Conformance(Measured.Of(e.At("estimate").GetDouble(), "kPa", "a", e.At("u").GetDouble()));
        Assert.Equal(e.At("publishedConformance").GetDouble(), p, 0.005);
        Assert.Equal(e.At("computedHere").GetDouble(), p, 1e-5);
    }

    /// <summary>A speed is refused only where it is above the limit with 99.9 %: u grows with the speed, so the threshold is limit / (1 - z u_rel).</summary>
    [Fact]
    public void Guarded_rejection_of_a_speed()
    {
        var e = Guide.At("examples").Named("id", "JCGM106-8.3.3.2-ex1");
        var (limit, relative) = (e.At("limit").GetDouble(), e.At("relativeStandardUncertainty").GetDouble());
        var rule = new Limit(null, limit, Severity.Critical, "JCGM 106", e.At("requiredProbability").GetDouble());
        Ruling At(double speed) => rule.Rule(Measured.Of(speed, "km/h", "a", relative * speed));
        Assert.Equal(Ruling.Outside, At(e.At("publishedThreshold").GetDouble()));
        Assert.Equal(Ruling.Undecided, At(106.5));
        Assert.Equal(Ruling.Outside, At(106.6));
    }

    [Theory]
    [InlineData(0, 0.50)]
    [InlineData(0.83, 0.048)]
    [InlineData(1, 0.023)]
    [InlineData(1.5, 0.0013)]
    [InlineData(3, 1e-9)]
    public void Specific_risk_at_the_limit_of_acceptance(double r, double risk)
    {
        var acceptance = Acceptance.OfExpanded(new Limit(null, 10, Severity.Major, "JCGM 106, 8.3.2"), 1, r);
        var found = acceptance.SpecificRisk(Measured.Of(acceptance.Upper, "1", "a", 1));
        Assert.Equal(risk, found, Math.Max(risk * 0.04, 1e-10));
    }

    /// <summary>ISO 14253-1:2017: guard band 1.65 u for 95 % (edition detail from memory). With 4 degrees of freedom 1 % takes 3.75 u (computed).</summary>
    [Fact]
    public void Guard_bands()
    {
        var limit = new Limit(0, 10, Severity.Major, "ISO 14253-1");
        Assert.Equal(1.65, Acceptance.Guarded(limit, 1).GuardBand, 0.006);
        Assert.Equal(3.75, Acceptance.Guarded(new Limit(0, 10, Severity.Major, "x", 0.99), 1, 4).GuardBand, 0.005);
        Assert.Equal(2, Acceptance.OfExpanded(limit, 1).GuardBand, 1e-12);
        Assert.Equal(0, Acceptance.Simple(limit).GuardBand);
    }

    [Fact]
    public void Global_risks_of_resistors()
    {
        var table = Guide.At("globalRisk");
        var limit = new Limit(1499.8, 1500.2, Severity.Major, "after JCGM 106");
        foreach (var row in table.At("rows").EnumerateArray())
        {
            var risk = new Acceptance(limit, row.At("guardBand").GetDouble()).Global(1500, 0.12, 0.04);
            Assert.Equal(table.At("conforming").GetDouble(), risk.Conforming, 1e-6);
            Assert.Equal(row.At("consumer").GetDouble(), risk.Consumer, row.At("consumer").GetDouble() * 1e-4);
            Assert.Equal(row.At("producer").GetDouble(), risk.Producer, row.At("producer").GetDouble() * 1e-4);
        }
    }

    [Fact]
    public void False_acceptance_at_a_ratio_of_four()
    {
        foreach (var row in Guide.At("globalRiskPublished", "rows").EnumerateArray())
        {
            var s = 1 / Normal.InvCDF(0, 1, (1 + row.At("inToleranceFraction").GetDouble()) / 2);
            var risk = Acceptance.Simple(new Limit(-1, 1, Severity.Major, "calibration practice")).Global(0, s, s / 4);
            double Off(string published) => Math.Abs(row.At(published).GetDouble() - (100 * risk.Consumer));
            Assert.True(Off("falseAcceptPct") < 2e-6, $"{100 * risk.Consumer:R}");
            Assert.Equal(row.At("computedFalseAcceptPct").GetDouble(), 100 * risk.Consumer, 1e-7);
            var accepted = risk.Consumer + risk.Conforming - risk.Producer;
            Assert.Equal(row.At("conditionalFalseAcceptPct").GetDouble(), 100 * risk.Consumer / accepted, 2e-6);
        }
    }

    [Fact]
    public void Repeatability_and_reproducibility()
    {
        var e = Facts.Uncertainty.At("iso5725", "example");
        var table = OneWay.Of(e.At("data").EnumerateArray().Select(r => r.Numbers()));
        Assert.Equal(e.At("mean").GetDouble(), table.Mean, 1e-9);
        Assert.Equal(e.At("s_r").GetDouble(), table.WithinDeviation, 1e-8);
        Assert.Equal(e.At("s_L").GetDouble(), table.BetweenDeviation, 1e-8);
        Assert.Equal(e.At("s_R").GetDouble(), table.ReproducibilityDeviation, 1e-8);
        Assert.Equal(e.At("r").GetDouble(), table.RepeatabilityLimit, 1e-8);
        Assert.Equal(e.At("R").GetDouble(), table.ReproducibilityLimit, 1e-8);
    }

    [Fact]
    public void Gauge_study_by_variance()
    {
        var study = Facts.Uncertainty.At("gaugeRR");
        var published = study.At("publishedAnova");
        var computed = study.At("computedHere");
        var table = TwoWay.Of(Cells());
        Assert.Equal(published.At("SSpart").GetDouble(), table.Rows.SumOfSquares, 0.0005);
        Assert.Equal(published.At("SSappraiser").GetDouble(), table.Columns.SumOfSquares, 0.0005);
        Assert.Equal(published.At("SSinteraction").GetDouble(), table.Interaction.SumOfSquares, 0.0005);
        Assert.Equal(published.At("SSequipment").GetDouble(), table.Within.SumOfSquares, 0.0005);
        Assert.Equal(published.At("SStotal").GetDouble(), table.Total.SumOfSquares, 0.0005);
        Assert.Equal(89, table.Total.DegreesOfFreedom);
        Assert.Equal(computed.At("F", "partVsInteraction").GetDouble(), table.Rows.Against(table.Interaction), 1e-5);
        Assert.Equal(computed.At("F", "interactionVsRepeatability").GetDouble(), table.Interaction.Against(table.Within), 1e-8);
        Assert.Equal(computed.At("pInteraction").GetDouble(), table.Interaction.ProbabilityAgainst(table.Within), 1e-8);

        var pooled = GaugeStudy.ByVariance(Cells());
        Assert.Equal(published.At("varRepeatability").GetDouble(), pooled.Repeatability, 0.0005);
        Assert.Equal(published.At("varReproducibility").GetDouble(), pooled.Reproducibility, 0.00005);
        Assert.Equal(published.At("varGRR").GetDouble(), pooled.Gauge, 0.00005);
        Assert.Equal(published.At("varPart").GetDouble(), pooled.Part, 0.0005);
        Assert.Equal(published.At("ndc").GetDouble(), Math.Floor(pooled.DistinctCategories));
        Assert.Equal(computed.At("pooled", "pctStudyGRR").GetDouble(), pooled.PercentOfStudy, 1e-5);

        var apart = GaugeStudy.ByVariance(Cells(), poolAbove: 1);
        Assert.Equal(computed.At("unpooled", "varGRR").GetDouble(), apart.Gauge, 1e-8);
        Assert.Equal(computed.At("unpooled", "varPart").GetDouble(), apart.Part, 1e-7);
        Assert.Equal(computed.At("unpooled", "pctStudyGRR").GetDouble(), apart.PercentOfStudy, 1e-5);
    }

    [Fact]
    public void Gauge_study_by_averages_and_ranges()
    {
        var published = Facts.Uncertainty.At("gaugeRR", "publishedAverageRange");
        var study = GaugeStudy.ByRange(Cells());
        Assert.Equal(published.At("EV").GetDouble(), Math.Sqrt(study.Repeatability), 0.00005);
        Assert.Equal(published.At("AV").GetDouble(), Math.Sqrt(study.Reproducibility), 0.00005);
        Assert.Equal(published.At("GRR").GetDouble(), Math.Sqrt(study.Gauge), 0.00005);
        Assert.Equal(published.At("PV").GetDouble(), Math.Sqrt(study.Part), 0.0001);
        Assert.Equal(published.At("TV").GetDouble(), Math.Sqrt(study.Total), 0.0001);
        Assert.Equal(published.At("pctGRR").GetDouble(), study.PercentOfStudy, 0.005);
        Assert.Equal(published.At("ndc").GetDouble(), Math.Floor(study.DistinctCategories));
    }

    /// <summary>From memory of printed tables: chi-square 3.841 (1) and 18.307 (10), F 4.965 (1, 10) and 3.326 (5, 10), t 2.228 (10), each at 5 %.</summary>
    [Fact]
    public void Tail_probabilities()
    {
        Assert.Equal(0.05, Probability.OfChiSquare(3.841, 1), 1e-4);
        Assert.Equal(0.05, Probability.OfChiSquare(18.307, 10), 1e-4);
        Assert.Equal(0.05, Probability.OfF(4.965, 1, 10), 1e-4);
        Assert.Equal(0.05, Probability.OfF(3.326, 5, 10), 1e-4);
        Assert.Equal(0.05, Probability.OfT(2.228, 10), 1e-4);
        Assert.Equal(0.05, Probability.OfT(-1.95996, double.PositiveInfinity), 1e-6);
    }

    /// <summary>Parts by appraisers by repeats, of a layout appraiser, repeat, part.</summary>
    private static double[,,] Cells()
    {
        var data = Facts.Uncertainty.At("gaugeRR", "data");
        var cells = new double[10, 3, 3];
        string[] appraisers = ["A", "B", "C"];
        for (var a = 0; a < 3; a++)
        {
            for (var k = 0; k < 3; k++)
            {
                var row = data.At(appraisers[a])[k].Numbers();
                for (var p = 0; p < 10; p++)
                {
                    cells[p, a, k] = row[p];
                }
            }
        }

        return cells;
    }
}
