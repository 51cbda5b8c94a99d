namespace Pairbench.Imaging.Photographs;

/// <summary>Photographs in a folder; names may not lead out of it.</summary>
public sealed class FolderPhotoSource(string folder) : IPhotoSource
{
    private readonly string _folder = Path.GetFullPath(folder);

    public IPhotograph Open(string file)
    {
        ArgumentNullException.ThrowIfNull(file);
        var path = file.Length > 0 && !file.Contains('\0', StringComparison.Ordinal) ? Path.GetFullPath(Path.Combine(_folder, file)) : _folder;
        if (!path.StartsWith(_folder.TrimEnd(Path.DirectorySeparatorChar) + Path.DirectorySeparatorChar, StringComparison.Ordinal))
        {
            throw new PhotoException(file, "does not lie in the folder", "name a file in the review's folder");
        }

        var info = new FileInfo(path);
        if (!info.Exists)
        {
            throw new PhotoException(file, "is not there", "name a picture file in the review's folder");
        }

        return info.Length <= PhotoFile.MostBytes
            ? PhotoFile.Open(file, File.ReadAllBytes(path))
            : throw new PhotoException(file, $"has {info.Length >> 20} MiB", $"give a picture of at most {PhotoFile.MostBytes >> 20} MiB");
    }
}
