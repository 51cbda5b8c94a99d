using System.Security.Cryptography;
using Pairbench.Footwear;

namespace Pairbench.Storage.Tests;

/// <summary>What everything does that keeps contents.</summary>
public abstract class BlobContract : IDisposable
{
    protected static CancellationToken Cancel => TestContext.Current.CancellationToken;

    protected string Folder { get; } = Directory.CreateTempSubdirectory("pairbench-contents-").FullName;

    public void Dispose()
    {
        Directory.Delete(Folder, recursive: true);
        GC.SuppressFinalize(this);
    }

    protected abstract Task<IBlobStore> OpenAsync();

    [Fact]
    public async Task WhatWasPutIsThereUnderItsHashForOthersToo()
    {
        byte[] content = [.. Enumerable.Range(0, 300_000).Select(i => (byte)(i * 31 / 7))];
        var (hash, bytes) = await (await OpenAsync()).PutAsync(new MemoryStream(content), content.Length, Cancel);

        var other = await OpenAsync();
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(content)), hash);
        Assert.Equal(content.Length, bytes);
        Assert.Equal(content.Length, await other.LengthAsync(hash, Cancel));
        await using var stream = (await other.OpenAsync(hash, Cancel))!;
        Assert.True(stream.CanSeek);
        stream.Position = 299_999;
        Assert.Equal(content[^1], stream.ReadByte());
        stream.Position = 0;
        Assert.Equal(hash, Convert.ToHexStringLower(await SHA256.HashDataAsync(stream, Cancel)));
    }

    [Fact]
    public async Task AnEmptyContentAndOnePutTwiceAreKeptOnce()
    {
        var blobs = await OpenAsync();
        var empty = await blobs.PutAsync(new MemoryStream(), 10, Cancel);
        var first = await blobs.PutAsync(new MemoryStream([1, 2, 3]), 10, Cancel);

        Assert.Equal(first, await blobs.PutAsync(new MemoryStream([1, 2, 3]), 10, Cancel));
        Assert.Equal(0, await blobs.LengthAsync(empty.Hash, Cancel));
    }

    [Fact]
    public async Task AContentIsHeldOnlyWhereItIsThereWhole()
    {
        var blobs = await OpenAsync();
        var (hash, _) = await blobs.PutAsync(new MemoryStream([1, 2, 3]), 10, Cancel);

        Assert.True(await blobs.HoldsAsync(hash, Cancel));
        Assert.False(await blobs.HoldsAsync(new string('0', 64), Cancel));
        Assert.False(await blobs.HoldsAsync("../../etc/passwd", Cancel));
    }

    [Theory]
    [InlineData("")]
    [InlineData("../../etc/passwd")]
    [InlineData("0000000000000000000000000000000000000000000000000000000000000000")]
    public async Task WhatIsNotThereIsNothing(string hash)
    {
        var blobs = await OpenAsync();

        Assert.Null(await blobs.OpenAsync(hash, Cancel));
        Assert.Null(await blobs.LengthAsync(hash, Cancel));
    }

    [Fact]
    public async Task WhatIsTooLargeOrCalledOffLeavesNothing()
    {
        var blobs = await OpenAsync();
        await Assert.ThrowsAsync<FaultsException>(() => blobs.PutAsync(new MemoryStream(new byte[11]), 10, Cancel));
        using var off = new CancellationTokenSource();
        await off.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => blobs.PutAsync(new MemoryStream(new byte[5]), 10, off.Token));

        Assert.Null(await blobs.LengthAsync(Convert.ToHexStringLower(SHA256.HashData(new byte[11])), Cancel));
        Assert.Null(await blobs.LengthAsync(Convert.ToHexStringLower(SHA256.HashData(new byte[5])), Cancel));
        Assert.Empty(Directory.GetFiles(Folder, "*", SearchOption.AllDirectories));
    }
}

public sealed class BlobFolderTests : BlobContract
{
    protected override Task<IBlobStore> OpenAsync() => Task.FromResult<IBlobStore>(new BlobFolder(Folder));
}
