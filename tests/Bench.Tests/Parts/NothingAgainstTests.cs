using Pairbench.Bench.Sheets;
using Pairbench.Reporting;

namespace Pairbench.Bench.Tests.Parts;

public sealed class NothingAgainstTests
{
    [Theory]
    [InlineData("", "Nothing speaks against it, but no figure was held against a limit.", "no figure has a limit that it could be held against")]
    [InlineData(""", "limit": { "max": 500 }""", "Nothing speaks against it.", "no figure with a limit is outside or undecided")]
    public async Task A_pass_of_figures_without_limits_says_so(string limit, string said, string reported)
    {
        await using var opened = await OpenedSheet.OpenAsync($$""", "evidence": { "readings": { "items": [ { "id": "mass", "quantity": "mass", "unit": "g", "values": [412, 413]{{limit}} } ] } }""");
        await opened.SettledAsync();

        var examined = opened.Sheet.Examined!;
        var section = ReportBuilder.Build(examined, Footwear.ReviewRun.Read(opened.Sheet.Document.ToJsonString()), Imaging.NoPhotographs.Instance, Imprint.OfThisProgram(new DateOnly(2026, 3, 1))).Sections.Single(s => s.Id == "verdict");
        Assert.Equal(said, DecideForm.NothingAgainst(examined));
        Assert.Contains(section.Blocks.OfType<Block.Paragraph>(), p => p.Text.Contains(reported, StringComparison.Ordinal));
    }
}
