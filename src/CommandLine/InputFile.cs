using System.Text.Json;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;

namespace Pairbench.CommandLine;

/// <summary>Reads JSON files that a command names.</summary>
internal static class InputFile
{
    private const long MostBytes = 64L << 20;

    /// <exception cref="FaultsException">The file is not there, too large or not JSON.</exception>
    public static JsonElement Json(string path)
    {
        if (path.Length == 0)
        {
            throw new FaultsException(new Fault("", "names no file", "name a JSON file"));
        }

        if (Directory.Exists(path))
        {
            throw new FaultsException(new Fault(path, "is a folder", "name a JSON file"));
        }

        var file = new FileInfo(path);
        if (!file.Exists)
        {
            throw new FaultsException(new Fault(path, "is not there", "name a JSON file"));
        }

        return file.Length <= MostBytes
            ? ShapeReader.Parse(File.ReadAllBytes(path), path)
            : throw new FaultsException(new Fault(path, $"has {file.Length >> 20} MiB", $"give at most {MostBytes >> 20} MiB"));
    }

    /// <summary>The review file of a folder.</summary>
    /// <exception cref="FaultsException">There is no folder or no review file in it.</exception>
    public static JsonElement Review(string folder)
    {
        var path = Path.Combine(folder, Footwear.Review.FileName);
        if (!Directory.Exists(folder))
        {
            throw new FaultsException(new Fault(folder, "is no folder", $"name a folder that holds {Footwear.Review.FileName} and its photographs"));
        }

        var file = new FileInfo(path);
        return file switch
        {
            { Exists: false } => throw new FaultsException(new Fault(folder, $"holds no {Footwear.Review.FileName}", $"name a folder that holds {Footwear.Review.FileName} and its photographs")),

            // A pipe has no length either, and in a folder nobody writes to it.
            { Length: 0 } => ShapeReader.Parse(Array.Empty<byte>(), path),
            _ => Json(path),
        };
    }
}
