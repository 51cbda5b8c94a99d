using NetVips;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Imaging.Tests.Photographs;

public sealed class FolderPhotoSourceTests : IDisposable
{
    private readonly string _root = Directory.CreateTempSubdirectory("pairbench-photos-").FullName;
    private readonly string _folder;

    public FolderPhotoSourceTests()
    {
        _folder = Path.Combine(_root, "review");
        Directory.CreateDirectory(Path.Combine(_folder, "soles"));
        using var black = Image.Black(8, 6, bands: 3);
        var png = black.PngsaveBuffer();
        File.WriteAllBytes(Path.Combine(_folder, "a.jpg"), png);
        File.WriteAllBytes(Path.Combine(_folder, "soles", "b.png"), png);
        File.WriteAllBytes(Path.Combine(_root, "secret.png"), png);
        File.WriteAllBytes(Path.Combine(_folder, "none.png"), []);
    }

    public void Dispose() => Directory.Delete(_root, recursive: true);

    [Theory]
    [InlineData("a.jpg")]
    [InlineData("soles/b.png")]
    [InlineData("soles/../a.jpg")]
    public void APictureInTheFolderIsOpenedByItsContent(string name) => Assert.Equal(new PixelSize(8, 6), new FolderPhotoSource(_folder).Open(name).Size);

    [Theory]
    [InlineData("../secret.png")]
    [InlineData("soles/../../secret.png")]
    [InlineData("/etc/hostname")]
    [InlineData("")]
    [InlineData("a\0.jpg")]
    [InlineData("absent.jpg")]
    [InlineData("soles")]
    [InlineData("none.png")]
    public void AnythingElseIsRefused(string name)
    {
        var refusal = Assert.Throws<PhotoException>(() => new FolderPhotoSource(_folder).Open(name));

        Assert.Equal(name, refusal.File);
    }

    [Fact]
    public void LinksMayStayInsideAndNeverLeadOut()
    {
        File.CreateSymbolicLink(Path.Combine(_folder, "inside.png"), Path.Combine(_folder, "a.jpg"));
        File.CreateSymbolicLink(Path.Combine(_folder, "out.png"), Path.Combine(_root, "secret.png"));
        Directory.CreateSymbolicLink(Path.Combine(_folder, "up"), _root);
        var source = new FolderPhotoSource(_folder);

        Assert.Equal(new PixelSize(8, 6), source.Open("inside.png").Size);
        Assert.Contains("leads out", Assert.Throws<PhotoException>(() => source.Open("out.png")).Message, StringComparison.Ordinal);
        Assert.Contains("leads out", Assert.Throws<PhotoException>(() => source.Open("up/secret.png")).Message, StringComparison.Ordinal);
    }
}
