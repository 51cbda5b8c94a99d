using System.Text.Json;
using System.Text.Json.Nodes;
using Pairbench.Footwear;
using Pairbench.Reporting;

namespace Pairbench.CommandLine;

/// <summary>Writes outcomes and plates into a folder; each file is whole or not there.</summary>
internal static class OutputFolder
{
    public static JsonSerializerOptions Indented { get; } = new() { WriteIndented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static void Write(string folder, IEnumerable<Outcome> outcomes, string name, JsonObject document)
    {
        foreach (var outcome in outcomes)
        {
            foreach (var plate in outcome.Plates)
            {
                ReportFiles.WriteOne(folder, OutcomeJson.PlateFile(outcome, plate), plate.Content.Span);
            }
        }

        ReportFiles.WriteOne(folder, name, System.Text.Encoding.UTF8.GetBytes(document.ToJsonString(Indented) + "\n"));
    }
}
