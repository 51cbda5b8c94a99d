using System.Text.Json.Nodes;
using Pairbench.Footwear;
using Pairbench.Reporting;

namespace Pairbench.CommandLine;

/// <summary>Writes outcomes and plates into a folder; each file is whole or not there.</summary>
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

    public static void Write(string folder, IEnumerable<Outcome> outcomes, string name, JsonObject document)
    {
        foreach (var outcome in outcomes)
        {
            foreach (var plate in outcome.Plates)
            {
                ReportFiles.WriteOne(folder, OutcomeJson.PlateFile(outcome, plate), plate.Content.Span);
            }
        }

        ReportFiles.WriteOne(folder, name, System.Text.Encoding.UTF8.GetBytes(DocumentText.Of(document) + "\n"));
    }
}
