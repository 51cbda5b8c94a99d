using Microsoft.Data.Sqlite;

namespace Pairbench.CommandLine.Tests;

/// <summary><c>move</c> and the options of a store from the shell.</summary>
public sealed class MoveCommandTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-test-").FullName;

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task AStoreMovesWithItsPhotographsAndASecondTimeBringsNothing()
    {
        var review = Directory.CreateDirectory(Path.Combine(_folder, "review")).FullName;
        await File.WriteAllTextAsync(Path.Combine(review, "review.json"), """{"format":"pairbench-review/1","style":{"name":"Moved"},"build":{"label":"one"}}""", TestContext.Current.CancellationToken);
        await File.WriteAllTextAsync(Path.Combine(review, "notes.txt"), "seen", TestContext.Current.CancellationToken);
        Assert.Equal(ExitCode.Done, (await Run.Of("import", review, "--store", At("old"))).Code);

        var first = await Run.Of("move", "--from", At("old"), "--to", At("new"), "--to-files", At("contents"));
        var second = await Run.Of("move", "--from", At("old"), "--to", At("new"), "--to-files", At("contents"));
        var export = await Run.Of("export", "moved-one", At("out"), "--store", At("new"), "--files", At("contents"));

        Assert.Equal((ExitCode.Done, ExitCode.Done, ExitCode.Done), (first.Code, second.Code, export.Code));
        Assert.Contains("this move brought 1 reviews, 0 lots and 1 files", first.Out, StringComparison.Ordinal);
        Assert.Contains("files by their hash", first.Out, StringComparison.Ordinal);
        Assert.Contains("1 of 1 reviews checked", first.Error, StringComparison.Ordinal);
        Assert.Contains("this move brought 0 reviews, 0 lots and 0 files", second.Out, StringComparison.Ordinal);
        Assert.Equal("seen", await File.ReadAllTextAsync(Path.Combine(At("out"), "notes.txt"), TestContext.Current.CancellationToken));
        Assert.False(Directory.Exists(Path.Combine(At("new"), "files")));
    }

    [Fact]
    public async Task WrongStoresAreOneLineEachAndMakeNothing()
    {
        await Refused("move: needs two stores", "move", "--from", At("old"));
        await Refused("--to: is the same store as --from", "move", "--from", At("old"), "--to", At("old") + "/");
        await Refused("--from: is '", "move", "--from", At("old"), "--to", At("new"));
        await Refused("--store: is a bucket, and a database cannot lie there", "import", _folder, "--store", "s3://shoes");
        Assert.Empty(Directory.GetFileSystemEntries(_folder));
    }

    [Theory]
    [InlineData("postgresql://user:secret@db/pairbench")]
    [InlineData("postgres://user:secret@db/pairbench?sslmode=require")]
    [InlineData("jdbc:postgresql://db/pairbench?password=secret")]
    public async Task AnAddressOfADatabaseIsNoFolderAndItsPasswordIsNotRepeated(string address)
    {
        foreach (var (option, command) in new (string, string[])[]
        {
            ("--store", ["import", _folder, "--store", address]),
            ("--store", ["export", "one", At("out"), "--store", address]),
            ("--from", ["move", "--from", address, "--to", At("new")]),
        })
        {
            var run = await Run.Of(command);
            Assert.Equal(ExitCode.WrongInput, run.Code);
            Assert.Equal($"{option}: is an address with ://, which is no folder and no connection string; name a folder, or PostgreSQL as Host=...;Database=...;Username=...;Password=...", Assert.Single(run.ErrorLines).Trim());
        }

        Assert.Empty(Directory.GetFileSystemEntries(_folder));
        Assert.False(Directory.Exists(address[..(address.IndexOf("//", StringComparison.Ordinal))]));
    }

    [Fact]
    public async Task AnExportFromAStoreThatIsNotThereMakesNone()
    {
        await Refused($"--store: is '{At("mistyped")}', and there is no pairbench.db in it", "export", "one", At("out"), "--store", At("mistyped"));
        Assert.Empty(Directory.GetFileSystemEntries(_folder));
    }

    [Fact]
    public async Task PlacesThatCannotTakeAStoreOrAnExportAreNamedBeforeAnythingIsDone()
    {
        var file = At("file");
        await File.WriteAllTextAsync(file, "kept", TestContext.Current.CancellationToken);

        await Refused($"--store: is '{file}', which is a file", "export", "one", At("out"), "--store", file);
        await Refused($"--files: is '{file}', which is a file", "export", "one", At("out"), "--store", At("store"), "--files", file);
        await Refused($"--store: is '{At("file/store")}', which lies under the file", "import", _folder, "--store", At("file/store"));
        await Refused($"{file}: is a file", "export", "one", file, "--store", At("store"));
        await Refused($"{At("no/x.zip")}: lies in a folder that is not there", "export", "one", At("no/x.zip"), "--store", At("store"));
        Assert.Equal([file], Directory.GetFileSystemEntries(_folder));
    }

    [Fact]
    public async Task SettingsOfABucketThatAreWrongAreNamedAtOnce()
    {
        var run = await Run.Of("import", _folder, "--store", At("store"), "--files", "s3://S", "--s3-endpoint", "host", "--s3-region", "no region");

        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Contains("--files: names no bucket", run.Error, StringComparison.Ordinal);
        Assert.Contains("--s3-endpoint or AWS_ENDPOINT_URL_S3: is no address", run.Error, StringComparison.Ordinal);
        Assert.Contains("--s3-region or AWS_REGION: is no region", run.Error, StringComparison.Ordinal);
        Assert.False(Directory.Exists(At("store")));
    }

    private static async Task Refused(string says, params string[] args)
    {
        var run = await Run.Of(args);
        Assert.Equal(ExitCode.WrongInput, run.Code);
        Assert.Empty(run.Out);
        Assert.StartsWith(says, Assert.Single(run.ErrorLines), StringComparison.Ordinal);
    }

    private string At(string name) => Path.Combine(_folder, name);
}
