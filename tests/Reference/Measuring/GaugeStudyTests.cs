using System.Text.Json;
using MathNet.Numerics.Distributions;
using Pairbench.Footwear;
using Pairbench.Footwear.Tests;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Reference.Measuring;

/// <summary>The classic gauge study of 10 parts, 3 appraisers and 3 repeats: its readings and results stand in many public documents (seen).</summary>
public sealed class GaugeStudyTests
{
    private static readonly JsonElement Study = Facts.Uncertainty.At("gaugeRR");

    private static readonly string[] Appraisers = ["A", "B", "C"];

    [Theory]
    [InlineData("readings", "mm")]
    [InlineData("hardness", "JisC")]
    public void Both_examinations_give_the_published_components_and_name_the_method(string examination, string unit)
    {
        var outcome = Run(examination, unit);
        var published = Study.At("publishedAnova");
        double Variance(string id) => Math.Pow(Figure(outcome, id).Value, 2);
        Assert.Equal(published.At("varRepeatability").GetDouble(), Variance("repeatability"), 0.00005);
        Assert.Equal(published.At("varReproducibility").GetDouble(), Variance("reproducibility"), 0.00005);
        Assert.Equal(published.At("varGRR").GetDouble(), Variance("gauge"), 0.00005);
        Assert.Equal(published.At("varPart").GetDouble(), Variance("part-to-part"), 0.0005);
        Assert.Equal(published.At("ndc").GetDouble(), Math.Floor(Figure(outcome, "distinct-categories").Value));
        Assert.Equal(Study.At("computedHere", "pooled", "pctStudyGRR").GetDouble(), Figure(outcome, "percent-study").Value, 1e-6);
        Assert.All(outcome.Figures, f => Assert.EndsWith("(analysis of variance)", f.Label, StringComparison.Ordinal));
        Assert.Contains(outcome.Assumptions, a => a == "classic: the interaction of operator and part has p = 0.974, above 0.25, and is pooled into repeatability.");
    }

    /// <summary>By averages and ranges the same readings have 5 classes, by analysis of variance 4; appraiser B on part 4 is out of control (range 1.02 over 0.88).</summary>
    [Fact]
    public void The_two_methods_stand_side_by_side_and_the_reader_is_told_that_they_disagree()
    {
        var outcome = Run("readings", "mm");
        var published = Study.At("publishedAverageRange");
        var rows = outcome.Tables.Single(t => t.Id == "gauge").Rows.ToDictionary(r => ((Cell.Text)r[1]).Words, r => ((Cell.Number)r[3]).Measured.Value);
        Assert.Equal(published.At("EV").GetDouble(), rows["repeatability"], 0.0001);
        Assert.Equal(published.At("AV").GetDouble(), rows["reproducibility"], 0.0001);
        Assert.Equal(published.At("pctGRR").GetDouble(), rows["gauge over the whole spread"], 0.005);
        Assert.Equal(published.At("ndc").GetDouble(), Math.Floor(rows["classes told apart, not truncated"]));
        Assert.Contains(outcome.Cautions, c => c.StartsWith("classic: 4 classes by analysis of variance, 5 by averages and ranges", StringComparison.Ordinal));
        Assert.StartsWith("classic: B on part 4 spread over 1.02, above the control line of 0.8", Assert.Single(outcome.Cautions, c => c.Contains("control line", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    /// <summary>The interval of a variance with n degrees of freedom is exact: sum of squares over chi-square quantiles.</summary>
    [Fact]
    public void Repeatability_has_the_chi_square_interval()
    {
        var sum = Study.At("computedHere", "SS", "repeatability").GetDouble() + Study.At("computedHere", "SS", "interaction").GetDouble();
        var interval = Figure(Run("readings", "mm"), "repeatability").CoverageInterval();
        Assert.Equal(Math.Sqrt(sum / ChiSquared.InvCDF(78, 0.975)), interval.Lower, 0.002);
        Assert.Equal(Math.Sqrt(sum / ChiSquared.InvCDF(78, 0.025)), interval.Upper, 0.002);
    }

    /// <summary>In made-up studies of known components a 95 % interval seldom misses the truth, even with three appraisers.</summary>
    [Fact]
    public void Intervals_hold_the_truth_of_made_up_studies()
    {
        const int Studies = 60;
        var random = new MathNet.Numerics.Random.MersenneTwister(4);
        var truth = new GaugeStudy(0.04, 0.05, 1);
        var held = 0;
        for (var s = 0; s < Studies; s++)
        {
            var cells = new double[10, 3, 3];
            double[] appraisers = [.. Enumerable.Range(0, 3).Select(_ => Normal.Sample(random, 0, Math.Sqrt(truth.Reproducibility)))];
            for (var p = 0; p < 10; p++)
            {
                var part = Normal.Sample(random, 0, Math.Sqrt(truth.Part));
                for (var a = 0; a < 3; a++)
                {
                    for (var k = 0; k < 3; k++)
                    {
                        cells[p, a, k] = part + appraisers[a] + Normal.Sample(random, 0, Math.Sqrt(truth.Repeatability));
                    }
                }
            }

            var interval = GaugeVariance.Of(cells).Of("%", "study", g => g.PercentOfStudy).CoverageInterval();
            held += interval.Lower <= truth.PercentOfStudy && truth.PercentOfStudy <= interval.Upper ? 1 : 0;
        }

        Assert.InRange(held, (int)(0.88 * Studies), Studies);
    }

    private static Measured Figure(Outcome outcome, string id) => outcome.Figures.Single(f => f.Id == $"classic.anova.{id}").Measured;

    private static Outcome Run(string examination, string unit)
    {
        var data = Study.At("data");
        var readings = Enumerable.Range(0, 10).Select(p => Appraisers.Select(a => Enumerable.Range(0, 3).Select(k => data.At(a)[k][p].GetDouble())));
        var evidence = JsonSerializer.SerializeToElement(new { gauges = new[] { new { id = "classic", unit, names = Appraisers, readings } } });
        return ReviewRun.ExamineAlone(Examination.Named(examination)!, evidence, new Surroundings(NoPhotographs.Instance, DataFolder.Catalogue, Subject.Unknown));
    }
}
