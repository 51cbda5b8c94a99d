namespace Pairbench.Imaging.Photographs;

/// <summary>Photographs in a folder; names may not lead out of it.</summary>
public sealed class FolderPhotoSource(string folder) : IPhotoSource
{
    private readonly string _folder = Path.GetFullPath(folder);

    public IPhotograph Open(string file)
    {
        ArgumentNullException.ThrowIfNull(file);
        var path = file.Length > 0 && !file.Contains('\0', StringComparison.Ordinal) ? Path.GetFullPath(Path.Combine(_folder, file)) : _folder;
        if (!Below(path, _folder))
        {
            throw new PhotoException(file, "does not lie in the folder", "name a file in the review's folder");
        }

        try
        {
            if (!StaysInside(path))
            {
                throw new PhotoException(file, "is a link that leads out of the folder", "put the picture itself into the review's folder");
            }

            var info = new FileInfo(path);
            return info switch
            {
                { Exists: false } => throw new PhotoException(file, "is not there", "name a picture file in the review's folder"),

                // Pipes and devices have no length either, and reading them need not end.
                { Length: 0 } => throw new PhotoException(file, "is empty", "copy the picture again from the camera"),
                { Length: > PhotoFile.MostBytes } => throw new PhotoException(file, $"has {info.Length >> 20} MiB", $"give a picture of at most {PhotoFile.MostBytes >> 20} MiB"),
                _ => PhotoFile.Open(file, File.ReadAllBytes(path)),
            };
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new PhotoException(file, "cannot be read from the disk", "see that the file may be read");
        }
    }

    /// <summary>Follows the links on the way from the folder to a file.</summary>
    private bool StaysInside(string path)
    {
        var root = Resolved(new DirectoryInfo(_folder));
        for (var at = path; at.Length > _folder.Length; at = Path.GetDirectoryName(at)!)
        {
            FileSystemInfo info = Directory.Exists(at) ? new DirectoryInfo(at) : new FileInfo(at);
            if (info.LinkTarget is not null && !Below(Resolved(info), root) && !Below(Resolved(info), _folder))
            {
                return false;
            }
        }

        return true;
    }

    private static string Resolved(FileSystemInfo info) => info.ResolveLinkTarget(returnFinalTarget: true)?.FullName ?? info.FullName;

    private static bool Below(string path, string folder) =>
        path.StartsWith(folder.TrimEnd(Path.DirectorySeparatorChar) + Path.DirectorySeparatorChar, StringComparison.Ordinal);
}
