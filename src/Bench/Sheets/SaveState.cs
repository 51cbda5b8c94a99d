using System.Collections.Immutable;
using Pairbench.Footwear;
using Pairbench.Storage;

namespace Pairbench.Bench.Sheets;

/// <summary>Whether the store has what the page shows.</summary>
public abstract record SaveState
{
    private SaveState()
    {
    }

    /// <summary>Whether nothing more is saved until somebody has chosen what is to hold.</summary>
    public bool HasStopped => this is Conflict or Gone or Overtaken;

    /// <summary>The store has confirmed it.</summary>
    public sealed record Saved(DateTimeOffset At) : SaveState;

    public sealed record Saving : SaveState;

    /// <summary>The document is no review as it stands; the last one that was is kept.</summary>
    public sealed record Refused(ImmutableArray<Fault> Faults) : SaveState;

    /// <summary>The store did not answer; it is tried again.</summary>
    public sealed record Failed(string Words) : SaveState;

    /// <summary>The review was changed elsewhere since this page read it.</summary>
    public sealed record Conflict(StoredReview Latest) : SaveState;

    /// <summary>The review is no longer on the shelf.</summary>
    public sealed record Gone : SaveState;

    /// <summary>It was changed or taken off elsewhere, and this page cannot go on from there.</summary>
    public sealed record Overtaken(string Words) : SaveState;
}
