using System.Globalization;
using Pairbench.Imaging.Regions;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Benchmarks.Underfoot;

/// <summary>Writes made scenes as raw planes for the training script.</summary>
internal static class Export
{
    public static void Write(string folder, int from, int to)
    {
        Directory.CreateDirectory(folder);
        Parallel.For(from, to, new ParallelOptions { MaxDegreeOfParallelism = 2 }, n =>
        {
            var scene = TreadSceneGenerator.Draw(n, 560 + (n % 5 * 60));
            int width = scene.Photo.Width, height = scene.Photo.Height;
            using var file = new BinaryWriter(File.Create(Path.Combine(folder, n.ToString("D6", CultureInfo.InvariantCulture) + ".bin")));
            file.Write(width);
            file.Write(height);
            file.Write((float)scene.PixelsPerMm);
            file.Write(scene.Dabs.Length);
            file.Write(scene.Dabs.Select(d => d.Label).ToArray());
            file.Write(scene.Photo.Pixels);
            file.Write(scene.Coverage.Labels);
            file.Write(scene.Material.Labels);
            var dabs = new byte[width * height];
            for (var k = 0; k < scene.Dabs.Length; k++)
            {
                foreach (var p in Raster.Stroke(scene.Dabs[k].Path, scene.Dabs[k].RadiusPx, width, height))
                {
                    dabs[p] = (byte)(k + 1);
                }
            }

            file.Write(dabs);
        });
    }
}
