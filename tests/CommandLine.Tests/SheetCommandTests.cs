using System.Text;

namespace Pairbench.CommandLine.Tests;

public sealed class SheetCommandTests
{
    [Theory]
    [InlineData("A4", false)]
    [InlineData("A3", false)]
    [InlineData("Letter", false)]
    [InlineData("A4", true)]
    public async Task TheSheetIsOnePdf(string paper, bool cards)
    {
        var file = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.pdf");
        try
        {
            var run = await Run.Of(["sheet", "--paper", paper, "--out", file, .. cards ? new[] { "--cards" } : []]);

            Assert.Equal(ExitCode.Done, run.Code);
            Assert.Empty(run.Out);
            Assert.StartsWith("%PDF-", Encoding.ASCII.GetString(await File.ReadAllBytesAsync(file, TestContext.Current.CancellationToken)), StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(file);
        }
    }

    [Theory]
    [InlineData("A5", false)]
    [InlineData("1", false)]
    [InlineData("A3", true)]
    public async Task APaperThatThereIsNotIsOneFault(string paper, bool cards)
    {
        var run = await Run.Of(["sheet", "--paper", paper, "--out", "never.pdf", .. cards ? new[] { "--cards" } : []]);

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Single(run.ErrorLines);
        Assert.False(File.Exists("never.pdf"));
    }

    [Fact]
    public async Task AFolderThatIsNotThereIsOneFault()
    {
        var run = await Run.Of("sheet", "--out", Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}", "sheet.pdf"));

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Single(run.ErrorLines);
    }
}
