namespace Pairbench.CommandLine;

/// <summary>A folder that a command is to write to.</summary>
internal static class OutputFolder
{
    /// <summary>Why files cannot be put into a folder that may not be there yet; null where they can. Leaves nothing behind.</summary>
    public static string? WhyNot(string folder)
    {
        if (string.IsNullOrWhiteSpace(folder))
        {
            return "is empty";
        }

        if (File.Exists(folder))
        {
            return "is a file";
        }

        var there = Path.GetFullPath(folder);
        while (!Directory.Exists(there))
        {
            if (File.Exists(there))
            {
                return $"lies under the file {there}";
            }

            if (Path.GetDirectoryName(there) is not { } above)
            {
                return "has no drive";
            }

            there = above;
        }

        try
        {
            using var probe = new FileStream(Path.Combine(there, $".pairbench-{Guid.NewGuid():n}.part"), FileMode.CreateNew, FileAccess.Write, FileShare.None, 1, FileOptions.DeleteOnClose);
            return null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return $"cannot be written: {there} takes no files";
        }
    }
}
