using Pairbench.Footwear;

namespace Pairbench.Storage.Tests;

/// <content>What goes from every shelf to folders and archives, and back.</content>
public abstract partial class ShelfContract
{
    [Fact]
    public async Task ExportAndImportLoseNothing()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Travels", "a"), Cancel);
        await shelf.AttachAsync(created.Id, "picture.bin", Bytes("bytes as they were"), Cancel);
        using var zip = new MemoryStream();
        await ReviewFolder.ExportZipAsync(shelf, created.Id, zip, forSending: false, Cancel);
        zip.Position = 0;

        var back = await ReviewFolder.ImportZipAsync(shelf, zip, "travels.zip", Cancel);

        Assert.Equal(created.Document, back.Document);
        Assert.Equal(await shelf.FilesAsync(created.Id, Cancel), await shelf.FilesAsync(back.Id, Cancel));
    }

    [Fact]
    public async Task AFolderThatCannotBeMadeIsToldInOneLine()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Folder", "a"), Cancel);
        var file = Path.GetTempFileName();
        try
        {
            var refused = await Assert.ThrowsAsync<FaultsException>(() => ReviewFolder.ExportFolderAsync(shelf, created.Id, Path.Combine(file, "out"), forSending: false, Cancel));
            Assert.Equal($"{Path.Combine(file, "out")}: cannot be written: {file} takes no folders; name a folder in one that can be written", Assert.Single(refused.Faults).ToString());
        }
        finally
        {
            File.Delete(file);
        }
    }

    [Fact]
    public async Task AFolderKeepsEveryNameAndByte()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Folder", "a"), Cancel);
        string[] names = ["left..right.png", "Größe 42.txt", "a'b.bin", "x.tar.gz"];
        foreach (var name in names)
        {
            await shelf.AttachAsync(created.Id, name, Bytes(name), Cancel);
        }

        var folder = Directory.CreateTempSubdirectory("pairbench-export-").FullName;
        try
        {
            await ReviewFolder.ExportFolderAsync(shelf, created.Id, folder, forSending: false, Cancel);
            var back = await ReviewFolder.ImportFolderAsync(shelf, folder, Cancel);
            Assert.Equal(created.Document, back.Document);
            Assert.Equal(await shelf.FilesAsync(created.Id, Cancel), await shelf.FilesAsync(back.Id, Cancel));

            using var zip = new MemoryStream();
            await ReviewFolder.ExportZipAsync(shelf, created.Id, zip, forSending: false, Cancel);
            zip.Position = 0;
            var packed = await ReviewFolder.ImportZipAsync(shelf, zip, "folder.zip", Cancel);
            Assert.Equal(names.Order(StringComparer.Ordinal), (await shelf.FilesAsync(packed.Id, Cancel)).Select(f => f.Name).Order(StringComparer.Ordinal));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Named as the folder that somebody works in is.</summary>
    [Fact]
    public async Task AnEmptyFolderIsFilledWhereItStands()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Folder", "a"), Cancel);
        await shelf.AttachAsync(created.Id, "a.bin", Bytes("a"), Cancel);
        var folder = Directory.CreateTempSubdirectory("pairbench-export-").FullName;
        try
        {
            await ReviewFolder.ExportFolderAsync(shelf, created.Id, Path.Combine(folder, "."), forSending: false, Cancel);
            Assert.Equal(["a.bin", Review.FileName], Directory.GetFileSystemEntries(folder).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task APictureWhoseTagsCannotBeTakenOutIsNotSent()
    {
        var shelf = await OpenAsync();
        var created = await shelf.CreateAsync(Document("Sending", "a"), Cancel);
        await shelf.AttachAsync(created.Id, "cut.jpg", new MemoryStream([0xFF, 0xD8, 0xFF, 0xE1, 0, 16, .. "Exif and a place"u8]), Cancel);
        using var zip = new MemoryStream();

        var refusal = await Assert.ThrowsAsync<FaultsException>(() => ReviewFolder.ExportZipAsync(shelf, created.Id, zip, forSending: true, Cancel));

        Assert.StartsWith("cut.jpg: cannot be freed of its tags", Assert.Single(refusal.Faults).ToString(), StringComparison.Ordinal);
    }
}
