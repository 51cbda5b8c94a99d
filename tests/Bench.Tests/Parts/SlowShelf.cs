using System.Reflection;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>A shelf before another one, whose list of reviews can be held back. It goes on with what is no longer wanted, as a store far away does whose answer is under way.</summary>
public class SlowShelf : DispatchProxy
{
    private IReviewShelf _behind = null!;
    private Task _until = Task.CompletedTask;
    private CancellationToken _wanted;

    public IReviewShelf Shelf { get; private set; } = null!;

    /// <summary>Whether the answer that was asked for last is still wanted.</summary>
    public bool IsWanted => !_wanted.IsCancellationRequested;

    public static SlowShelf Before(IReviewShelf behind)
    {
        var shelf = Create<IReviewShelf, SlowShelf>();
        var slow = (SlowShelf)(object)shelf;
        (slow._behind, slow.Shelf) = (behind, shelf);
        return slow;
    }

    /// <summary>What is listed from now on waits for the answer.</summary>
    public TaskCompletionSource Hold()
    {
        var until = new TaskCompletionSource();
        _until = until.Task;
        return until;
    }

    /// <summary>What is listed from now on comes at once.</summary>
    public void LetGo() => _until = Task.CompletedTask;

    protected override object? Invoke(MethodInfo? targetMethod, object?[]? args)
    {
        var wanted = args!.OfType<CancellationToken>().FirstOrDefault();
        object?[] unheeded = [.. args!.Select(a => a is CancellationToken ? CancellationToken.None : a)];
        return targetMethod!.Name == nameof(IReviewShelf.ListAsync) ? ListAsync(_until, (ShelfQuery)args![0]!, wanted) : targetMethod.Invoke(_behind, unheeded);
    }

    private async Task<ShelfPage> ListAsync(Task until, ShelfQuery query, CancellationToken wanted)
    {
        _wanted = wanted;
        await until;
        return await _behind.ListAsync(query, CancellationToken.None);
    }
}
