namespace Pairbench.Tests;

/// <summary>The repository that the tests run in.</summary>
internal static class Repository
{
    /// <summary>The nearest folder above the program that holds the solution.</summary>
    public static string Root { get; } = Find();

    private static string Find()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "Pairbench.slnx")))
        {
            folder = folder.Parent ?? throw new DirectoryNotFoundException($"Pairbench.slnx is in no folder above {AppContext.BaseDirectory}.");
        }

        return folder.FullName;
    }
}
