using Pairbench.Footwear.Hardness;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Hardness;

/// <summary>Where an estimate would only look like one, words stand in its place.</summary>
public sealed class NoEstimateTests
{
    private const string Cut = "\"surface\": \"cut\", \"thicknessMm\": { \"value\": 4, \"standardUncertainty\": 0.05 }";

    private static Outcome Run(string rest, string readings = "30, 31, 30, 30.5, 31", string scale = "JisC") =>
        DataFolder.Run("hardness", $$"""{ "spots": [{ "id": "pad", "scale": "{{scale}}", "readings": [{{readings}}], {{rest}} }] }""");

    private static void IsRefused(Outcome outcome, string words)
    {
        Assert.DoesNotContain(outcome.Figures, f => f.Id is "pad.hardness-thick" or "pad.hardness-under-face");
        Assert.Contains(outcome.Cautions, c => c.StartsWith("pad:", StringComparison.Ordinal) && c.Contains(words, StringComparison.Ordinal) && c.Contains("no estimate", StringComparison.Ordinal));
        Assert.All(outcome.Figures, f => Assert.True(double.IsFinite(f.Measured.Value) && double.IsFinite(f.Measured.StandardUncertainty)));
    }

    /// <summary>Outside of 20 to 90 the scale itself is not reliable, whatever theory makes of it.</summary>
    [Theory]
    [InlineData("15, 15, 15", "15 lies below 20, where its scale is not reliable")]
    [InlineData("93, 93, 93", "93 lies above 90, where its scale is not reliable")]
    public void Under_a_face_nothing_is_estimated_outside_the_range_of_the_scale(string readings, string words) =>
        IsRefused(Run(""" "surface": "through-face", "face": { "thicknessMm": 4, "modulusMPa": 20 } """, readings), words);

    [Fact]
    public void What_is_too_soft_for_the_softest_scale_is_told_what_else_there_is()
    {
        var words = Run("\"surface\": \"cut\"", "12, 12, 12", "ShoreOO").Cautions.Single(c => c.Contains("lies below 20", StringComparison.Ordinal));
        Assert.Contains("no scale kept here reaches softer; have its compression stress measured", words, StringComparison.Ordinal);
        Assert.Contains("read on ShoreOO", Run("\"surface\": \"cut\"", "12, 12, 12", "ShoreA").Cautions.Single(c => c.Contains("lies below 20", StringComparison.Ordinal)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("[100, 100, 100]", "on what lies beneath it the dial stood at its end, 100")]
    [InlineData("[99.9, 100, 100]", "the dial stood at its end, 100")]
    [InlineData("[0, 0, 0]", "on what lies beneath it the dial stood at its end, 0")]
    public void A_backing_at_the_end_of_the_scale_says_nothing(string readings, string words) =>
        IsRefused(Run($$"""{{Cut}}, "backing": "shoe", "beneath": { "readings": {{readings}} } """), words);

    /// <summary>Near its ends the scale is still followed, and no step leaves it.</summary>
    [Theory]
    [InlineData("[99.9, 100, 99.8]")]
    [InlineData("[99.5, 99.5, 99.5]")]
    [InlineData("[1, 1, 1]")]
    [InlineData("[0.1, 0.1, 0.1]")]
    public void A_backing_near_the_end_of_the_scale_gives_finite_figures_or_words(string readings)
    {
        var outcome = Run($$"""{{Cut}}, "backing": "shoe", "beneath": { "readings": {{readings}} } """);
        Assert.All(outcome.Figures, f => Assert.True(double.IsFinite(f.Measured.Value) && f.Measured.StandardUncertainty is > 0 and < 20));
        Assert.Contains(outcome.Cautions, c => c.Contains("soft backing", StringComparison.Ordinal));
    }

    /// <summary>A very hard backing is a hard base.</summary>
    [Fact]
    public void A_very_hard_backing_is_as_good_as_the_bench()
    {
        static Measured Thick(string rest) => Run($"{Cut}, {rest}").Figures.Single(f => f.Id == "pad.hardness-thick").Measured;
        var (bench, hard) = (Thick("\"backing\": \"bench\""), Thick("\"backing\": \"shoe\", \"beneath\": { \"readings\": [99.9, 100, 99.8] }"));
        Assert.Equal(bench.Value, hard.Value, 0.2);
        Assert.Equal(bench.StandardUncertainty, hard.StandardUncertainty, 0.3);
    }

    [Theory]
    [InlineData("100, 100", "the dial stood at its end, 100")]
    [InlineData("0, 0", "the dial stood at its end, 0")]
    public void A_pad_at_the_end_of_the_scale_gets_no_estimate(string readings, string words)
    {
        IsRefused(Run($"{Cut}, \"backing\": \"shoe\", \"beneath\": {{ \"readings\": [25, 26, 25] }}", readings), words);
        IsRefused(Run($"{Cut}, \"backing\": \"bench\"", readings), words);
    }

    /// <summary>Near 0 of the scale a pad may be all that lifts the dial: a thick piece at the stop has no uncertainty that means anything.</summary>
    [Theory]
    [InlineData("ShoreOO", "20, 20, 20", 1)]
    public void A_pad_whose_thick_piece_would_not_move_the_dial_gets_no_estimate(string scale, string readings, double mm) =>
        IsRefused(Run(FormattableString.Invariant($"\"surface\": \"cut\", \"thicknessMm\": {mm}, \"backing\": \"bench\""), readings, scale), "may not move the dial off 0, so no estimate is honest. Lay pieces of it on each other.");

    /// <summary>Where the scale itself is not reliable nothing is built on its reading.</summary>
    [Theory]
    [InlineData("ShoreD", "99.5, 99.5, 99.5", 1, "99.5 lies above 90, where its scale is not reliable")]
    [InlineData("ShoreD", "1, 1, 1", 5.9, "1 lies below 20, where its scale is not reliable")]
    [InlineData("ShoreA", "1, 1, 1", 5.9, "1 lies below 20, where its scale is not reliable")]
    [InlineData("JisC", "3, 3, 3", 5.9, "3 lies below 20, where its scale is not reliable")]
    public void A_reading_that_its_scale_does_not_vouch_for_gets_no_estimate(string scale, string readings, double mm, string words) =>
        IsRefused(Run(FormattableString.Invariant($"\"surface\": \"cut\", \"thicknessMm\": {mm}, \"backing\": \"bench\""), readings, scale), words);

    /// <summary>The interval keeps its other end: what lies beyond the dial is laid on its stop.</summary>
    [Theory]
    [InlineData("0, 0, 0", 0, 0, 6.7)]
    [InlineData("100, 100, 100", 100, 93.3, 100)]
    [InlineData("3, 3, 3", 3, 0, 9.7)]
    public void No_interval_of_a_hardness_leaves_the_dial(string readings, double value, double lower, double upper)
    {
        var read = Run("\"surface\": \"cut\"", readings, "ShoreD").Figures.Single(f => f.Id == "pad.hardness").Measured;
        var interval = read.CoverageInterval();
        Assert.Equal((value, lower, upper), (read.Value, Math.Round(interval.Lower, 1), Math.Round(interval.Upper, 1)));
    }

    [Theory]
    [InlineData("0.01")]
    [InlineData("0.8")]
    [InlineData("1.2")]
    [InlineData("3")]
    public void A_backing_too_thin_for_its_own_reading_is_not_taken_as_thick(string mm) =>
        IsRefused(Run($$"""{{Cut}}, "backing": "shoe", "beneath": { "readings": [25, 26, 25], "thicknessMm": {{mm}} } """), $"the backing itself, {mm} mm, is too thin for its reading of 25");

    /// <summary>The uncertainty goes on smoothly with the thickness of the backing.</summary>
    [Fact]
    public void The_uncertainty_does_not_jump_with_the_thickness_of_the_backing()
    {
        double? last = null;
        for (var mm = 3.9; mm < 8; mm += 0.25)
        {
            var thick = Run(FormattableString.Invariant($"{Cut}, \"backing\": \"shoe\", \"beneath\": {{ \"readings\": [25, 26, 25], \"thicknessMm\": {{ \"value\": {mm}, \"standardUncertainty\": 0.05 }} }}")).Figures.SingleOrDefault(f => f.Id == "pad.hardness-thick")?.Measured;
            Assert.NotNull(thick);
            Assert.InRange(thick.StandardUncertainty / (last ?? thick.StandardUncertainty), 0.8, 1.25);
            last = thick.StandardUncertainty;
        }
    }

    [Theory]
    [InlineData("43, 44, 42", "[90, 91, 90]", "[5, 6, 5]", "the face added more on the sample (85) than the spot reads (43)")]
    [InlineData("80, 80, 80", "[20, 21, 20]", "[50, 51, 50]", "the sample reads higher bare (50) than through its face (20)")]
    [InlineData("43, 44, 42", "[20, 21, 20]", "[22, 23, 22]", "the sample reads higher bare (22) than through its face (20)")]
    [InlineData("100, 100, 100", "[60, 61, 60]", "[40, 41, 40]", "the dial stood at its end, 100")]
    public void A_sample_that_cannot_be_is_refused(string readings, string through, string bare, string words) =>
        IsRefused(Run($$""" "surface": "through-face", "face": { "through": {{through}}, "bare": {{bare}} } """, readings), words);

    [Theory]
    [InlineData(30, 33, 24, "between 3 points softer and 6 points harder")]
    [InlineData(30, 27, 36, "between 3 points harder and 6 points softer")]
    [InlineData(30, 31, 24, "between 1 point softer and 6 points harder")]
    [InlineData(30, 25, 23, "about 5 to 7 points harder")]
    [InlineData(30, 30.3, 28, "up to 2 points harder")]
    [InlineData(30, 29.8, 29.4, "up to 1 point harder")]
    [InlineData(30, 36, 34, "about 4 to 6 points softer")]
    [InlineData(30, 29, 29, "about 1 point harder")]
    [InlineData(30, 29.8, 29.6, "less than half a point harder")]
    public void By_how_much_is_said_in_words_that_can_be_read(double reading, double lying, double bonded, string words) =>
        Assert.Equal(words, new ThinPad(reading, lying, bonded).Words);

    /// <summary>On a backing that nobody read a pad may read too soft as well; on one that was read, cones are followed as balls are.</summary>
    [Theory]
    [InlineData("ShoreD")]
    [InlineData("AstmC")]
    public void A_pad_under_a_cone_may_read_too_soft_on_a_soft_backing(string scale)
    {
        var unread = Run($"{Cut}, \"backing\": \"shoe\"", "40, 41, 40", scale);
        IsRefused(unread, "it may read too soft or too hard");
        Assert.DoesNotContain(unread.Cautions, c => c.Contains("it reads too hard", StringComparison.Ordinal));
        var read = Run($"{Cut}, \"beneath\": {{ \"readings\": [25, 26, 25] }}", "40, 41, 40", scale);
        Assert.InRange(read.Figures.Single(f => f.Id == "pad.hardness-thick").Measured.Value, 40, 45);
        Assert.Contains(read.Cautions, c => c.Contains("softer than a thick piece", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("\"surface\": \"cut\", \"thicknessMm\": 30", "a pad of 30 mm is thick enough")]
    [InlineData("\"surface\": \"cut\"", "the thickness of the pad is not given")]
    [InlineData("\"surface\": \"through-face\", \"thicknessMm\": 4", "What is said of the stuff beneath was not used")]
    [InlineData("\"surface\": \"cut\", \"thicknessMm\": 4, \"backing\": \"finger\"", "A finger is no backing that anyone can state")]
    public void A_backing_that_is_not_used_is_said(string rest, string words)
    {
        var outcome = Run($$"""{{rest}}, "beneath": { "readings": [25, 26, 25] } """);
        Assert.Contains(outcome.Cautions, c => c.Contains(words, StringComparison.Ordinal) && c.Contains("was not used", StringComparison.Ordinal));
        Assert.DoesNotContain(outcome.Figures, f => f.Id == "pad.hardness-thick");
    }

    [Fact]
    public void A_bench_is_no_soft_backing() =>
        Assert.Equal(
            "spots[0].beneath: stands beside the backing 'bench', which is hard; leave beneath out if the pad lay on the bench, else leave the backing out or give 'shoe'",
            Assert.Single(Assert.Throws<FaultsException>(() => Run($$"""{{Cut}}, "backing": "bench", "beneath": { "readings": [25, 26, 25] } """)).Faults).ToString());
}
