using System.Collections.Immutable;
using System.Text.Json;

namespace Pairbench.Footwear;

/// <summary>One entry of evidence as it stands in a file.</summary>
/// <param name="Where">Its place in the file, for faults; empty where the entry is the whole file.</param>
public sealed record Entry(Examination Examination, string Id, JsonElement Evidence, string Where)
{
    public EntryAddress Address => new(Examination.Name, Id);

    /// <summary>Places in the evidence that hold that of another entry, with its address.</summary>
    internal ImmutableArray<(string Place, string Address)> Taken { get; init; } = [];

    /// <summary>Places that ask for the evidence of another entry in a form that names none.</summary>
    internal ImmutableArray<Fault> Mistaken { get; init; } = [];

    /// <summary>A place with the entry that its value was stated in: equal places are equal causes, whoever takes them in.</summary>
    internal string Stated(string place)
    {
        var source = Taken.FirstOrDefault(t => place.StartsWith(t.Place + ".", StringComparison.Ordinal));
        return source.Place is null ? $"{Address}/{Named(place)}" : $"{source.Address}/{Named(place)[(Named(source.Place).Length + 1)..]}";
    }

    internal string Named(string place) => NamedPlace.Of(Examination.EvidenceType, Evidence, place);
}
