using System.Collections.Concurrent;
using System.Text.Json;
using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;
using Pairbench.Imaging;
using Pairbench.Imaging.Datum;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Bench.Board;

/// <summary>What became of the search for a sheet or cards in a photograph.</summary>
/// <param name="Datum">Null where there is none.</param>
/// <param name="Says">What was found, or why not and what to do.</param>
public sealed record DatumAnswer(DatumFound? Datum, string Says);

/// <summary>Sheets and cards found in photographs, for the eye: each is looked for once. Figures come from the examinations.</summary>
public static class FoundDatums
{
    private const int Most = 64;

    private static readonly ConcurrentDictionary<string, Lazy<Task<DatumAnswer>>> Searches = new(StringComparer.Ordinal);

    /// <summary>Whether a scale is to be found in the picture.</summary>
    public static bool Sought(JsonNode? scale) => JsonPath.Text(scale, "kind") is "sheet" or "cards";

    /// <summary>Looks for the sheet or cards of a scale.</summary>
    /// <returns>Null where the scale or the photograph cannot be read yet; the faults of the form say why.</returns>
    public static Task<DatumAnswer>? Search(ReviewSheet sheet, string scalePath)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        ArgumentNullException.ThrowIfNull(scalePath);
        var file = sheet.Text(scalePath[..scalePath.LastIndexOf('/')] + "/file");
        if (sheet.At(scalePath) is not { } node || !Sought(node) || sheet.File(file) is not { } stored)
        {
            return null;
        }

        var text = node.ToJsonString();
        var key = $"{stored.Hash} {text}";
        if (Searches.Count > Most)
        {
            Searches.Clear();
        }

        return Searches.GetOrAdd(key, _ => new Lazy<Task<DatumAnswer>>(() => Task.Run(() => Look(sheet, file, text)))).Value;
    }

    /// <summary>The scale for the board: with the corners of what was found, so that the pointer reads millimetres.</summary>
    public static JsonNode? ForBoard(ReviewSheet sheet, string scalePath)
    {
        ArgumentNullException.ThrowIfNull(sheet);
        var scale = sheet.At(scalePath);
        if (Search(sheet, scalePath) is not { IsCompletedSuccessfully: true, Result.Datum: { } datum })
        {
            return Sought(scale) ? null : scale;
        }

        var size = datum.PlaneSize;
        return new JsonObject
        {
            ["kind"] = "rectangle",
            ["corners"] = BoardMark.ToJson(datum.Outlines[0].Select(p => new[] { p.X, p.Y })),
            ["sizeMm"] = new JsonArray(size.Width, size.Height),
        };
    }

    private static DatumAnswer Look(ReviewSheet sheet, string file, string scale)
    {
        try
        {
            var read = (PrintedScale)ShapeReader.Read<PhotoScale>(JsonDocument.Parse(scale).RootElement, "scale", out _);
            var found = DatumFinder.Find(read, sheet.Photo(file));
            return new DatumAnswer(found, found.Words);
        }
        catch (ScaleException e)
        {
            return new DatumAnswer(null, $"{Capital(e.Message)}: {e.WouldBeRight}.");
        }
        catch (FaultsException e)
        {
            return new DatumAnswer(null, $"{e.Faults[0].What}: {e.Faults[0].WouldBeRight}.");
        }
        catch (PhotoException e)
        {
            return new DatumAnswer(null, $"{file} {e.Message}: {e.WouldBeRight}.");
        }
    }

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];
}
