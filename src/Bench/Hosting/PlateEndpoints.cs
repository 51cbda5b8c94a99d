using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;

namespace Pairbench.Bench.Hosting;

/// <summary>Plates as pictures: whole, or shrunk without mixing the labels of a label map.</summary>
internal static class PlateEndpoints
{
    public static void Map(IEndpointRouteBuilder app) => app.MapGet("/plates/{key}", (string key, int? w, Plates plates, HttpContext context) =>
    {
        if (plates.Find(key) is not { } plate)
        {
            return Results.NotFound();
        }

        context.Response.Headers.CacheControl = "private, max-age=31536000, immutable";
        return w is { } longest && plate.MediaType == "image/png"
            ? Results.Bytes(Shrunk(plate.Content.ToArray(), Math.Clamp(longest, 16, 4096)), "image/png")
            : Results.Bytes(plate.Content, plate.MediaType);
    });

    private static byte[] Shrunk(byte[] png, int longest)
    {
        var map = PhotoFile.Open("plate", png).Decode();
        var step = Math.Max(1.0, Math.Max(map.Width, map.Height) / (double)longest);
        var size = new PixelSize(Math.Max(1, (int)(map.Width / step)), Math.Max(1, (int)(map.Height / step)));
        var labels = new byte[size.Count];
        for (var y = 0; y < size.Height; y++)
        {
            var row = map.Row(Math.Min(map.Height - 1, (int)((y + 0.5) * map.Height / size.Height)));
            for (var x = 0; x < size.Width; x++)
            {
                labels[(y * size.Width) + x] = row[Math.Min(map.Width - 1, (int)((x + 0.5) * map.Width / size.Width)) * 3];
            }
        }

        return PictureWriter.Png(new LabelMap(size, labels));
    }
}
