using System.Security.Cryptography;
using Pairbench.Footwear;

namespace Pairbench.Storage.Tests;

public sealed class S3BlobsTests : BlobContract, IClassFixture<S3Server>
{
    private static readonly byte[] Content = [.. Enumerable.Range(0, 200_000).Select(i => (byte)(i * 17 / 5))];
    private static readonly string Hash = Convert.ToHexStringLower(SHA256.HashData(Content));
    private readonly S3Server _server;

    public S3BlobsTests(S3Server server)
    {
        _server = server;
        server.Reset();
    }

    private static string Key => $"bench/{Hash[..2]}/{Hash}";

    protected override async Task<IBlobStore> OpenAsync() => await OpenAsync(_server.Settings);

    [Fact]
    public async Task AContentGoesUpOnceSignedAndWithItsHash()
    {
        var blobs = await OpenAsync();
        await blobs.PutAsync(new MemoryStream(Content), Content.Length, Cancel);
        await (await OpenAsync()).PutAsync(new MemoryStream(Content), Content.Length, Cancel);

        Assert.Empty(_server.Wrongs);
        Assert.Equal(Content, _server.Objects[Key]);
        Assert.Single(_server.Asked, asked => asked == $"PUT /{S3Server.Bucket}/{Key}");

        // It is at hand already, so nothing is fetched.
        await using var read = await blobs.OpenAsync(Hash, Cancel);
        Assert.DoesNotContain(_server.Asked, asked => asked.StartsWith("GET", StringComparison.Ordinal) && asked.Contains(Hash, StringComparison.Ordinal));
    }

    [Fact]
    public async Task ACutObjectIsMendedWhenItComesAgain()
    {
        _server.Objects[Key] = Content[..100];
        await (await OpenAsync()).PutAsync(new MemoryStream(Content), Content.Length, Cancel);

        Assert.Equal(Content, _server.Objects[Key]);
    }

    [Theory]
    [InlineData(S3Trouble.Damaging, "what lies there is damaged")]
    [InlineData(S3Trouble.Forgetting, "does not have it")]
    public async Task AServerThatDoesNotConfirmTheHashIsReadBack(S3Trouble trouble, string says)
    {
        _server.Confirms = false;
        await (await OpenAsync()).PutAsync(new MemoryStream([1, 2, 3]), 10, Cancel);
        _server.Trouble = method => method == "PUT" ? trouble : S3Trouble.None;

        var refusal = await Assert.ThrowsAsync<IOException>(() => Put());

        Assert.Contains(says, refusal.Message, StringComparison.Ordinal);
        Assert.Empty(Cached());

        // What came damaged has the right length; it is not taken for the content when that is put again.
        _server.Trouble = _ => S3Trouble.None;
        await Put();
        Assert.Equal(Content, _server.Objects[Key]);
    }

    [Theory]
    [InlineData(S3Trouble.Failing, "the server answers 500")]
    [InlineData(S3Trouble.Denying, "the server answers 403 AccessDenied")]
    [InlineData(S3Trouble.Silent, "nothing came for 2 s")]
    public async Task AnUploadThatFailsIsOneClearLineAndNothingIsKept(S3Trouble trouble, string says)
    {
        var blobs = await OpenAsync(_server.Settings with { Patience = PatienceWith(trouble) });
        _server.Trouble = method => method == "PUT" ? trouble : S3Trouble.None;

        var refusal = await Assert.ThrowsAsync<IOException>(() => blobs.PutAsync(new MemoryStream(Content), Content.Length, Cancel));

        Assert.Contains(says, refusal.Message, StringComparison.Ordinal);
        AssertSaysNoSecret(refusal.Message);
        Assert.Empty(_server.Objects);
        Assert.Empty(Directory.GetFiles(Folder, "*", SearchOption.AllDirectories));
        _server.Trouble = _ => S3Trouble.None;
        Assert.Null(await blobs.LengthAsync(Hash, Cancel));
    }

    [Theory]
    [InlineData(S3Trouble.Truncating, "broke off")]
    [InlineData(S3Trouble.Stalling, "nothing came for 2 s")]
    [InlineData(S3Trouble.Damaging, "what came is damaged")]
    [InlineData(S3Trouble.Failing, "the server answers 500")]
    [InlineData(S3Trouble.Denying, "the server answers 403 AccessDenied")]
    [InlineData(S3Trouble.Silent, "nothing came for 2 s")]
    public async Task WhatDoesNotComeWholeIsAnErrorAndIsNotKept(S3Trouble trouble, string says)
    {
        _server.Objects[Key] = Content;
        var blobs = await OpenAsync(_server.Settings with { Patience = PatienceWith(trouble) });
        _server.Trouble = _ => trouble;

        var refusal = await Assert.ThrowsAsync<IOException>(() => blobs.OpenAsync(Hash, Cancel));

        Assert.True(refusal.Message.Contains(says, StringComparison.Ordinal), refusal.Message);
        AssertSaysNoSecret(refusal.Message);
        Assert.Empty(Directory.GetFiles(Folder, "*", SearchOption.AllDirectories));
    }

    [Fact]
    public async Task WhatBreaksOffOnceIsAskedForAgain()
    {
        _server.Objects[Key] = Content;
        var blobs = await OpenAsync();
        var asked = 0;
        _server.Trouble = _ => Interlocked.Increment(ref asked) == 1 ? S3Trouble.Truncating : S3Trouble.None;

        await using var read = (await blobs.OpenAsync(Hash, Cancel))!;

        Assert.Equal(Hash, Convert.ToHexStringLower(await SHA256.HashDataAsync(read, Cancel)));
    }

    [Fact]
    public async Task AnErrorOfTheServerIsAskedAgain()
    {
        var asked = 0;
        _server.Trouble = method => method == "PUT" && Interlocked.Increment(ref asked) == 1 ? S3Trouble.Failing : S3Trouble.None;

        await (await OpenAsync(_server.Settings with { Retries = 1 })).PutAsync(new MemoryStream(Content), Content.Length, Cancel);

        Assert.Equal(2, asked);
        Assert.Equal(Content, _server.Objects[Key]);
        Assert.Empty(_server.Wrongs);
    }

    [Fact]
    public async Task ALongTransferCanBeCalledOff()
    {
        _server.Objects[Key] = Content;
        var blobs = await OpenAsync();
        using var off = CancellationTokenSource.CreateLinkedTokenSource(Cancel);
        _server.Trouble = _ =>
        {
            off.CancelAfter(TimeSpan.FromMilliseconds(50));
            return S3Trouble.Stalling;
        };

        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => blobs.OpenAsync(Hash, off.Token));

        Assert.Empty(Directory.GetFiles(Folder, "*", SearchOption.AllDirectories));
    }

    [Fact]
    public async Task ADamagedCopyInTheCacheIsFetchedAnew()
    {
        var blobs = await OpenAsync();
        await Put();
        await File.WriteAllBytesAsync(Cached().Single(), new byte[Content.Length], Cancel);

        await using var read = (await blobs.OpenAsync(Hash, Cancel))!;

        Assert.Equal(Hash, Convert.ToHexStringLower(await SHA256.HashDataAsync(read, Cancel)));
    }

    [Fact]
    public async Task TheCacheStaysWithinItsBoundAndNothingIsLost()
    {
        var blobs = await OpenAsync(_server.Settings with { CacheBytes = 2_500 });
        var hashes = new List<string>();
        for (var i = 0; i < 8; i++)
        {
            hashes.Add((await blobs.PutAsync(new MemoryStream([.. Enumerable.Repeat((byte)i, 1_000)]), 1_000, Cancel)).Hash);
            Assert.True(Cached().Sum(f => new FileInfo(f).Length) <= 2_500);
        }

        foreach (var hash in hashes)
        {
            await using var read = (await blobs.OpenAsync(hash, Cancel))!;
            Assert.Equal(hash, Convert.ToHexStringLower(await SHA256.HashDataAsync(read, Cancel)));
            Assert.True(Cached().Sum(f => new FileInfo(f).Length) <= 2_500);
        }
    }

    [Fact]
    public async Task WrongSettingsAreOneLine()
    {
        var right = _server.Settings;
        await Refused(right with { Bucket = "boots" }, "names a bucket that is not there");
        await Refused(right with { Keys = S3Server.Keys with { Id = "AKIDOTHER" } }, "does not know the access key");
        await Refused(right with { Keys = S3Server.Keys with { Secret = "other" } }, "does not take the signature");
        await Refused(right with { Region = "us-west-2" }, "does not take the signature");
        await Refused(right with { Endpoint = new Uri("http://127.0.0.1:1") }, "cannot be reached");
        _server.Trouble = _ => S3Trouble.Denying;
        await Refused(right, "may not be used with these keys");
        _server.Trouble = _ => S3Trouble.Failing;
        Assert.Contains("500", (await Assert.ThrowsAsync<IOException>(() => OpenAsync(right))).Message, StringComparison.Ordinal);

        async Task Refused(S3Settings settings, string says)
        {
            var fault = Assert.Single((await Assert.ThrowsAsync<FaultsException>(() => OpenAsync(settings))).Faults);
            Assert.Contains(says, fault.ToString(), StringComparison.Ordinal);
            AssertSaysNoSecret(fault.ToString());
        }
    }

    private async Task<IBlobStore> OpenAsync(S3Settings settings) => await S3Blobs.OpenAsync(settings, Folder, Cancel);

    private async Task Put() => await (await OpenAsync()).PutAsync(new MemoryStream(Content), Content.Length, Cancel);

    /// <summary>Short only where it is waited out.</summary>
    private TimeSpan PatienceWith(S3Trouble trouble) => trouble is S3Trouble.Silent or S3Trouble.Stalling ? TimeSpan.FromSeconds(2) : _server.Settings.Patience;

    private string[] Cached() => [.. Directory.GetFiles(Folder, "*", SearchOption.AllDirectories).Where(f => Path.GetFileName(f) is { Length: 64 } name && name != Convert.ToHexStringLower(SHA256.HashData([1, 2, 3])))];

    private static void AssertSaysNoSecret(string words)
    {
        Assert.DoesNotContain(S3Server.Keys.Secret, words, StringComparison.Ordinal);
        Assert.DoesNotContain(S3Server.Keys.Id, words, StringComparison.Ordinal);
    }
}

/// <summary>Everything that a shelf does, with its photographs in a bucket.</summary>
public sealed class S3ShelfTests : ShelfContract, IClassFixture<S3Server>, IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("pairbench-s3-shelf-").FullName;
    private readonly S3Server _server;

    public S3ShelfTests(S3Server server)
    {
        _server = server;
        server.Reset();
    }

    public void Dispose()
    {
        Assert.Empty(_server.Wrongs);
        Microsoft.Data.Sqlite.SqliteConnection.ClearAllPools();
        Directory.Delete(_folder, recursive: true);
    }

    protected override async Task<IReviewShelf> OpenAsync() =>
        await ReviewShelf.OpenFolderAsync(_folder, blobs: await S3Blobs.OpenAsync(_server.Settings, Path.Combine(_folder, "cache"), Cancel), cancellation: Cancel);
}
