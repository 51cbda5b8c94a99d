using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Storage;

/// <summary>Loads the catalogue from a folder of JSON files.</summary>
public static class CatalogueFolder
{
    /// <summary>The folder <c>data</c> that is installed beside the program.</summary>
    public static string Installed => Path.Combine(AppContext.BaseDirectory, "data");

    /// <summary>Reads every <c>*.json</c> below the folder.</summary>
    /// <exception cref="FaultsException">The folder is not there, or a file is not JSON.</exception>
    public static Catalogue Load(string folder)
    {
        if (!Directory.Exists(folder))
        {
            throw new FaultsException(new Fault(folder, "is not there", "install the data folder beside the program"));
        }

        var files = ImmutableDictionary.CreateBuilder<string, JsonElement>(StringComparer.Ordinal);
        foreach (var path in Directory.EnumerateFiles(folder, "*.json", SearchOption.AllDirectories))
        {
            var name = Path.GetRelativePath(folder, path).Replace(Path.DirectorySeparatorChar, '/');
            files[name] = ShapeReader.Parse(File.ReadAllBytes(path), "data/" + name);
        }

        return new Catalogue(files.ToImmutable());
    }
}
