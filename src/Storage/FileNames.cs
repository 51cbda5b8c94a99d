using Pairbench.Footwear;

namespace Pairbench.Storage;

/// <summary>Names of files that come from outside.</summary>
internal static class FileNames
{
    /// <summary>The name without any folder.</summary>
    /// <exception cref="FaultsException">It cannot be a file name everywhere.</exception>
    public static string Checked(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        var bare = name[(name.LastIndexOfAny(['/', '\\']) + 1)..].Trim();
        return bare.Length is > 0 and <= 150
            && bare is not ("." or "..")
            && !bare.Any(c => char.IsControl(c) || c is '<' or '>' or ':' or '"' or '|' or '?' or '*')
            ? bare
            : throw new FaultsException(new Fault("file name", "is empty, longer than 150 characters or has characters that not every system allows", "rename the file"));
    }
}
