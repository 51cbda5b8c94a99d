using System.Text.Json.Nodes;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;

namespace Pairbench.Bench.Fields;

/// <summary>A document that fields show and change.</summary>
public interface IEditedDocument
{
    /// <summary>Whether the store has what is shown.</summary>
    SaveState State { get; }

    /// <summary>What stands at a place; null where nothing does.</summary>
    JsonNode? At(string path);

    /// <summary>Faults at a place or below it.</summary>
    IEnumerable<Fault> FaultsAt(string path);

    /// <summary>What tells its faults on the page.</summary>
    FaultPlaces FaultPlaces { get; }

    /// <summary>Whether a place is closed to changes.</summary>
    bool IsLocked(string path);

    /// <summary>Takes what was typed into a field.</summary>
    void Type(string path, JsonNode? value);
}
