using Pairbench.Bench.Sheets;
using Pairbench.Footwear;

namespace Pairbench.Bench.Fields;

/// <summary>Tells faults at its own place on the page.</summary>
public interface IFaultPlace
{
    /// <summary>Place in the document.</summary>
    string Path { get; }

    bool Tells(Fault fault);
}

/// <summary>What tells faults of a document on the page as it stands, so that a list beside it need not tell them again.</summary>
public sealed class FaultPlaces
{
    private readonly HashSet<IFaultPlace> _shown = [];

    public void Add(IFaultPlace place) => _shown.Add(place);

    public void Remove(IFaultPlace place) => _shown.Remove(place);

    /// <summary>Whether something tells a fault that is for a place below a path.</summary>
    public bool Tell(Fault fault, string path) => _shown.Any(p => p.Path.Length > path.Length && p.Tells(fault));

    /// <summary>Whether a fault is of a place of the document or of one below it; of the empty path all are.</summary>
    public static bool IsAt(Fault fault, string path)
    {
        ArgumentNullException.ThrowIfNull(fault);
        var place = JsonPath.AsPlace(path);
        return place.Length == 0 || fault.Where == place || (fault.Where.StartsWith(place, StringComparison.Ordinal) && fault.Where[place.Length] is '.' or '[');
    }
}
