using Microsoft.AspNetCore.Components;
using Pairbench.Footwear;

namespace Pairbench.Bench.Fields;

/// <summary>A part of a page that tells faults at its own place; as long as it is on the page no list tells them again.</summary>
public abstract class FaultTeller : ComponentBase, IFaultPlace, IDisposable
{
    /// <summary>Place in the document.</summary>
    [Parameter, EditorRequired]
    public required string Path { get; set; }

    /// <summary>The document whose faults are told.</summary>
    protected abstract IEditedDocument Document { get; }

    public abstract bool Tells(Fault fault);

    public void Dispose()
    {
        Dispose(disposing: true);
        GC.SuppressFinalize(this);
    }

    protected override void OnInitialized() => Document.FaultPlaces.Add(this);

    protected virtual void Dispose(bool disposing)
    {
        if (disposing)
        {
            Document.FaultPlaces.Remove(this);
        }
    }
}
