using System.Reflection;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>A shelf before another one, some of whose calls fail as they do when the store is in trouble.</summary>
public class TroubledShelf : DispatchProxy
{
    private IReviewShelf _behind = null!;

    /// <summary>Names of the calls that fail.</summary>
    public HashSet<string> Failing { get; } = [];

    public IReviewShelf Shelf { get; private set; } = null!;

    public static TroubledShelf Before(IReviewShelf behind, params string[] failing)
    {
        var shelf = Create<IReviewShelf, TroubledShelf>();
        var troubled = (TroubledShelf)(object)shelf;
        (troubled._behind, troubled.Shelf) = (behind, shelf);
        troubled.Failing.UnionWith(failing);
        return troubled;
    }

    protected override object? Invoke(MethodInfo? targetMethod, object?[]? args) =>
        Failing.Contains(targetMethod!.Name) ? throw new IOException("The disk is full.") : targetMethod.Invoke(_behind, args);
}
