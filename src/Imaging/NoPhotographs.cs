namespace Pairbench.Imaging;

/// <summary>A source without photographs, for what looks at none.</summary>
public sealed class NoPhotographs : IPhotoSource
{
    private NoPhotographs()
    {
    }

    public static NoPhotographs Instance { get; } = new();

    /// <exception cref="PhotoException">Always.</exception>
    public IPhotograph Open(string file) => throw new PhotoException(file, "is not looked at here", "look at it in the pair's review");
}
