using System.Diagnostics;
using System.Globalization;
using System.Security.Cryptography;
using Microsoft.Data.Sqlite;

namespace Pairbench.Storage.Tests;

public sealed class SqliteShelfTests : ShelfContract, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-shelf-").FullName;

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    protected override async Task<IReviewShelf> OpenAsync() => await ReviewShelf.OpenFolderAsync(_folder, cancellation: Cancel);

    /// <summary>Fifty kills at random moments: what was acknowledged is there, the store opens, every content has its hash.</summary>
    [Fact]
    public async Task KillingTheSaverLosesNothingAcknowledged()
    {
        var random = new Random(50);
        var saver = Path.Combine(AppContext.BaseDirectory, "Pairbench.Storage.Saver.dll");
        var contents = new HashSet<string>(StringComparer.Ordinal);
        long acknowledged = 0;
        for (var kill = 0; kill < 50; kill++)
        {
            using var child = Process.Start(new ProcessStartInfo("dotnet", [saver, _folder]) { RedirectStandardOutput = true })!;
            var lines = 0;
            var wanted = random.Next(1, 12);
            while (lines < wanted && await child.StandardOutput.ReadLineAsync(Cancel) is { } line)
            {
                Take(line);
                lines++;
            }

            await Task.Delay(random.Next(0, 30), Cancel);
            child.Kill();
            foreach (var line in (await child.StandardOutput.ReadToEndAsync(Cancel)).Split('\n').SkipLast(1))
            {
                Take(line);
            }

            await child.WaitForExitAsync(Cancel);
            Assert.True(lines > 0, "the saver came to no save");
        }

        var shelf = await OpenAsync();
        var review = Assert.Single((await shelf.ListAsync(new ShelfQuery(), Cancel)).Reviews);
        Assert.True(review.Revision >= acknowledged, $"revision {acknowledged} was acknowledged, {review.Revision} is there");
        Assert.NotNull(await shelf.ReadAsync(review.Id, Cancel));
        var files = await shelf.FilesAsync(review.Id, Cancel);
        Assert.Superset(contents, files.Select(f => f.Hash).ToHashSet(StringComparer.Ordinal));
        foreach (var file in files)
        {
            await using var content = (await shelf.OpenAsync(file.Hash, Cancel))!;
            Assert.Equal(file.Hash, Convert.ToHexStringLower(await SHA256.HashDataAsync(content, Cancel)));
        }

        void Take(string line)
        {
            var words = line.Split(' ');
            if (words[0] == "saved")
            {
                acknowledged = Math.Max(acknowledged, long.Parse(words[1], CultureInfo.InvariantCulture));
            }
            else
            {
                contents.Add(words[1]);
            }
        }
    }
}
