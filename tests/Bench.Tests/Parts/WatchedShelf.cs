using System.Reflection;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>A shelf before another one, of which one method does something first: it waits, or fails.</summary>
public class WatchedShelf : DispatchProxy
{
    private IReviewShelf _behind = null!;

    public IReviewShelf Shelf { get; private set; } = null!;

    /// <summary>Called with the name of each method before it goes on.</summary>
    public Action<string> Before { get; set; } = _ => { };

    public static WatchedShelf Of(IReviewShelf behind)
    {
        var shelf = Create<IReviewShelf, WatchedShelf>();
        var watched = (WatchedShelf)(object)shelf;
        (watched._behind, watched.Shelf) = (behind, shelf);
        return watched;
    }

    protected override object? Invoke(MethodInfo? targetMethod, object?[]? args)
    {
        Before(targetMethod!.Name);
        return targetMethod.Invoke(_behind, args);
    }
}
