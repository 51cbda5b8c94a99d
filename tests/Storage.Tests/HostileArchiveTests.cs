using System.IO.Compression;
using System.Text;
using Microsoft.Data.Sqlite;
using Pairbench.Footwear;

namespace Pairbench.Storage.Tests;

/// <summary>Archives are hostile input: each fault has its line, and nothing is half taken in.</summary>
public sealed class HostileArchiveTests : IDisposable
{
    private const string Good = """{"format":"pairbench-review/1","style":{"name":"a"},"build":{"label":"b"}}""";

    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-shelf-").FullName;

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    [Theory]
    [InlineData("../escape.jpg")]
    [InlineData("/etc/passwd")]
    [InlineData("a\\b.jpg")]
    [InlineData("C:evil.jpg")]
    [InlineData("REVIEW.JSON")]
    [InlineData("what?.jpg")]
    public async Task NamesThatLeadElsewhere(string name) => await Refused(Zip((Review.FileName, Good), (name, "x")));

    [Fact]
    public async Task NoReviewInIt() => await Refused(Zip(("picture.jpg", "x")));

    [Fact]
    public async Task AReviewThatIsNoReview() => await Refused(Zip((Review.FileName, "[]")));

    [Fact]
    public async Task ABomb() => await Refused(Zip((Review.FileName, Good), ("zeros.jpg", new string('0', 30 << 20))));

    [Fact]
    public async Task NoArchive() => await Refused(new MemoryStream("no archive at all"u8.ToArray()));

    [Fact]
    public async Task AFewBytesAreOneLineLikeAnythingElseThatIsNoArchive()
    {
        var shelf = await ReviewShelf.OpenFolderAsync(_folder, cancellation: Cancel);
        for (var bytes = 0; bytes < 70; bytes++)
        {
            foreach (var content in new[] { new byte[bytes], [.. Enumerable.Repeat((byte)'P', bytes)], [.. "PK\u0005\u0006"u8, .. new byte[bytes]] })
            {
                // An end record with nothing before it is an archive that holds no review.
                var refusal = await Assert.ThrowsAsync<FaultsException>(() => ReviewFolder.ImportZipAsync(shelf, new MemoryStream(content), "few.zip", Cancel));

                Assert.Equal("few.zip", Assert.Single(refusal.Faults).Where);
                var isEndRecord = content.Length > bytes && content.Length >= 22;
                Assert.Equal(isEndRecord ? "holds no review.json" : "is no readable .zip", refusal.Faults[0].What);
            }
        }
    }

    [Fact]
    public async Task AnArchiveWithAnyByteOfItChanged()
    {
        var shelf = await ReviewShelf.OpenFolderAsync(_folder, cancellation: Cancel);
        var whole = Zip((Review.FileName, Good), ("picture.bin", "content")).ToArray();
        var refused = 0;
        for (var at = 0; at < whole.Length; at++)
        {
            var changed = whole.ToArray();
            changed[at] ^= 0xFF;
            try
            {
                await ReviewFolder.ImportZipAsync(shelf, new MemoryStream(changed), "changed.zip", Cancel);
            }
            catch (FaultsException)
            {
                refused++;
            }
        }

        // Some bytes are of no account, such as those of the time.
        Assert.InRange(refused, whole.Length / 2, whole.Length);
    }

    [Fact]
    public async Task AnArchiveCutShort()
    {
        var whole = Zip((Review.FileName, Good), ("picture.jpg", "content")).ToArray();
        await Refused(new MemoryStream(whole[..(whole.Length / 2)]));
    }

    [Fact]
    public async Task TooManyFiles() => await Refused(Zip([(Review.FileName, Good), .. Enumerable.Range(0, ReviewFolder.MostFiles + 1).Select(i => ($"{i}.txt", ""))]));

    [Fact]
    public async Task ANameThatIsNotUtf8()
    {
        var archive = Zip((Review.FileName, Good), ("pict@re.jpg", "x")).ToArray();
        for (var at = archive.AsSpan().IndexOf("pict@re"u8); at >= 0; at = archive.AsSpan().IndexOf("pict@re"u8))
        {
            archive[at + 4] = 0xFF;
        }

        await Refused(new MemoryStream(archive));
    }

    [Fact]
    public async Task ADocumentThatIsNotUtf8()
    {
        using var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            using var stream = zip.CreateEntry(Review.FileName).Open();
            stream.Write([.. Encoding.UTF8.GetBytes(Good[..^2]), 0xFF, (byte)'"', (byte)'}']);
        }

        memory.Position = 0;
        await Refused(memory);
    }

    [Fact]
    public async Task AContentThatChangedOnTheWay()
    {
        using var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            using (var stream = zip.CreateEntry(Review.FileName).Open())
            {
                stream.Write(Encoding.UTF8.GetBytes(Good));
            }

            using var picture = zip.CreateEntry("picture.bin", CompressionLevel.NoCompression).Open();
            picture.Write("the content as it was packed"u8);
        }

        var archive = memory.ToArray();
        archive[archive.AsSpan().IndexOf("as it was"u8)] ^= 1;
        await Refused(new MemoryStream(archive));
    }

    [Fact]
    public async Task ALinkInAnArchive()
    {
        using var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            using (var stream = zip.CreateEntry(Review.FileName).Open())
            {
                stream.Write(Encoding.UTF8.GetBytes(Good));
            }

            var link = zip.CreateEntry("picture.jpg");
            link.ExternalAttributes = unchecked((int)0xA1FF0000);
            using var target = link.Open();
            target.Write("/etc/passwd"u8);
        }

        memory.Position = 0;
        await Refused(memory);
    }

    [Fact]
    public async Task DeepJson() => await Refused(Zip((Review.FileName, Good[..^1] + ",\"deep\":" + new string('[', 10_000) + new string(']', 10_000) + "}")));

    [Fact]
    public async Task NamesThatDifferOnlyInCase() => await Refused(Zip((Review.FileName, Good), ("sole.jpg", "1"), ("Sole.jpg", "2")));

    [Fact]
    public async Task AFolderInAFolder() => await Refused(Zip((Review.FileName, Good), ("left/sole.jpg", "1")));

    /// <summary>What desktops put beside the files by themselves is no part of a review, in a .zip as in a folder.</summary>
    [Fact]
    public async Task WhatADesktopLeavesBehindIsLeftOut()
    {
        var shelf = await ReviewShelf.OpenFolderAsync(_folder, cancellation: Cancel);
        var folder = Directory.CreateDirectory(Path.Combine(_folder, "given")).FullName;
        foreach (var (name, content) in new[] { (Review.FileName, Good), ("sole.jpg", "1"), (".DS_Store", "x"), ("._sole.jpg", "x"), ("Thumbs.db", "x"), ("desktop.ini", "x") })
        {
            await File.WriteAllTextAsync(Path.Combine(folder, name), content, Cancel);
        }

        Directory.CreateDirectory(Path.Combine(folder, "__MACOSX"));
        var zip = Zip(("shoe/" + Review.FileName, Good), ("shoe/sole.jpg", "1"), ("__MACOSX/shoe/._sole.jpg", "x"), ("shoe/.DS_Store", "x"), ("shoe/Thumbs.db", "x"));
        foreach (var review in new[] { await ReviewFolder.ImportZipAsync(shelf, zip, "packed.zip", Cancel), await ReviewFolder.ImportFolderAsync(shelf, folder, Cancel) })
        {
            Assert.Equal("sole.jpg", Assert.Single(await shelf.FilesAsync(review.Id, Cancel)).Name);
        }
    }

    [Fact]
    public async Task AReviewFileThatIsTooLarge()
    {
        var shelf = await ReviewShelf.OpenFolderAsync(_folder, cancellation: Cancel);
        var folder = Directory.CreateDirectory(Path.Combine(_folder, "given")).FullName;
        await using (var document = File.Create(Path.Combine(folder, Review.FileName)))
        {
            document.SetLength(65 << 20);
        }

        var refusal = await Assert.ThrowsAsync<FaultsException>(() => ReviewFolder.ImportFolderAsync(shelf, folder, Cancel));

        Assert.EndsWith("review.json: has 65 MiB; give a review file of at most 64 MiB", Assert.Single(refusal.Faults).ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task AFolderWithALinkOrAnotherFolderInIt()
    {
        var shelf = await ReviewShelf.OpenFolderAsync(_folder, cancellation: Cancel);
        var folder = Directory.CreateDirectory(Path.Combine(_folder, "given")).FullName;
        await File.WriteAllTextAsync(Path.Combine(folder, Review.FileName), Good, Cancel);
        File.CreateSymbolicLink(Path.Combine(folder, "link.jpg"), "/etc/passwd");
        Directory.CreateDirectory(Path.Combine(folder, "inner"));

        var refusal = await Assert.ThrowsAsync<FaultsException>(() => ReviewFolder.ImportFolderAsync(shelf, folder, Cancel));

        Assert.Equal(2, refusal.Faults.Length);
        Assert.Equal(0, (await shelf.ListAsync(new ShelfQuery(), Cancel)).Total);
    }

    /// <summary>A pipe that nobody writes to made an import wait for ever.</summary>
    [Fact]
    public async Task APipeInAFolderIsNotOpened()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has no pipes among its files.");
        var shelf = await ReviewShelf.OpenFolderAsync(_folder, cancellation: Cancel);
        var folder = Directory.CreateDirectory(Path.Combine(_folder, "given")).FullName;
        await File.WriteAllTextAsync(Path.Combine(folder, Review.FileName), Good, Cancel);
        var pipe = Path.Combine(folder, "sole.jpg");
        using (var made = System.Diagnostics.Process.Start("mkfifo", [pipe]))
        {
            await made.WaitForExitAsync(Cancel);
        }

        var review = await Task.Run(() => ReviewFolder.ImportFolderAsync(shelf, folder, Cancel), Cancel).WaitAsync(TimeSpan.FromSeconds(20), Cancel);

        Assert.Equal(("sole.jpg", 0L), Assert.Single((await shelf.FilesAsync(review.Id, Cancel)).Select(f => (f.Name, f.Bytes))));
    }

    [Fact]
    public async Task FilesAboveTheLimitAreNamedBeforeAnythingIsKept()
    {
        var shelf = await ReviewShelf.OpenFolderAsync(_folder, cancellation: Cancel);
        var folder = Directory.CreateTempSubdirectory("pairbench-given-").FullName;
        try
        {
            await File.WriteAllTextAsync(Path.Combine(folder, Review.FileName), Good, Cancel);
            await File.WriteAllTextAsync(Path.Combine(folder, "a-small.jpg"), "x", Cancel);
            foreach (var name in new[] { "b-large.tif", "c-large.tif" })
            {
                using var large = File.Create(Path.Combine(folder, name));
                large.SetLength((512L << 20) + 1);
            }

            var refusal = await Assert.ThrowsAsync<FaultsException>(() => ReviewFolder.ImportFolderAsync(shelf, folder, Cancel));

            Assert.Equal([$"{folder}: b-large.tif", $"{folder}: c-large.tif"], refusal.Faults.Select(f => f.Where));
            Assert.DoesNotContain(Directory.EnumerateFiles(_folder, "*", SearchOption.AllDirectories), f => Path.GetFileName(f).Length == 64);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private async Task Refused(MemoryStream archive)
    {
        var shelf = await ReviewShelf.OpenFolderAsync(_folder, cancellation: Cancel);

        var refusal = await Assert.ThrowsAsync<FaultsException>(() => ReviewFolder.ImportZipAsync(shelf, archive, "hostile.zip", Cancel));

        Assert.All(refusal.Faults, f => Assert.DoesNotContain('\n', f.ToString()));
        Assert.Equal(0, (await shelf.ListAsync(new ShelfQuery(), Cancel)).Total);
    }

    private static MemoryStream Zip(params (string Name, string Content)[] entries)
    {
        var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, content) in entries)
            {
                using var stream = zip.CreateEntry(name).Open();
                stream.Write(Encoding.UTF8.GetBytes(content));
            }
        }

        memory.Position = 0;
        return memory;
    }
}
