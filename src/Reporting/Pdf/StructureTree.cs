namespace Pairbench.Reporting.Pdf;

/// <summary>A part of the document's logical structure (ISO 32000-1, 14.7).</summary>
/// <param name="Type">A standard structure type, such as P, H1, Table, TD, Figure (ISO 32000-1, 14.8.4).</param>
/// <param name="Words">Text that stands for a figure; null where the content is text.</param>
internal sealed record StructurePart(string Type, string? Words)
{
    /// <summary>Parts and numbers of content, in reading order.</summary>
    public List<(StructurePart? Part, int Content)> Children { get; } = [];
}

/// <summary>Collects the structure of a document while it is drawn.</summary>
internal sealed class StructureTree
{
    private readonly Stack<StructurePart> _open = new();
    private readonly HashSet<int> _artefacts = [];
    private int _next;

    public StructureTree() => _open.Push(Root);

    public StructurePart Root { get; } = new("Document", null);

    /// <summary>Whether the content of this number belongs to no part.</summary>
    public bool IsArtefact(int content) => _artefacts.Contains(content);

    /// <summary>Runs with a new part of the part that is open.</summary>
    public void Part(string type, Action draw, string? words = null)
    {
        var part = new StructurePart(type, words);
        _open.Peek().Children.Add((part, 0));
        _open.Push(part);
        draw();
        _open.Pop();
    }

    /// <summary>A number for new content of the open part.</summary>
    public int Content()
    {
        _open.Peek().Children.Add((null, _next));
        return _next++;
    }

    /// <summary>A number for new content of no part.</summary>
    public int Artefact()
    {
        _artefacts.Add(_next);
        return _next++;
    }
}
