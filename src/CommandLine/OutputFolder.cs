using System.Text.Json;
using System.Text.Json.Nodes;
using Pairbench.Footwear;

namespace Pairbench.CommandLine;

/// <summary>Writes outcomes and plates into a folder; each file is whole or not there.</summary>
internal static class OutputFolder
{
    public static JsonSerializerOptions Indented { get; } = new() { WriteIndented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static void Write(string folder, IEnumerable<Outcome> outcomes, string name, JsonObject document)
    {
        Directory.CreateDirectory(folder);
        foreach (var outcome in outcomes)
        {
            foreach (var plate in outcome.Plates)
            {
                WriteWhole(Path.Combine(folder, OutcomeJson.PlateFile(outcome, plate)), plate.Content.Span);
            }
        }

        WriteWhole(Path.Combine(folder, name), System.Text.Encoding.UTF8.GetBytes(document.ToJsonString(Indented) + "\n"));
    }

    private static void WriteWhole(string path, ReadOnlySpan<byte> content)
    {
        var temporary = $"{path}.{Environment.ProcessId}.part";
        using (var stream = File.Create(temporary))
        {
            stream.Write(content);
        }

        File.Move(temporary, path, overwrite: true);
    }
}
