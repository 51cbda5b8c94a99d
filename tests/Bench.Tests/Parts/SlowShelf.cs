using System.Reflection;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>A shelf before another one, one of whose answers can be held back. It goes on with what is no longer wanted, as a store far away does whose answer is under way.</summary>
public class SlowShelf : DispatchProxy
{
    private static readonly MethodInfo LaterOf = typeof(SlowShelf).GetMethod(nameof(LaterAsync), BindingFlags.NonPublic | BindingFlags.Static)!;

    private IReviewShelf _behind = null!;
    private (string Call, Task Until)? _held;
    private CancellationToken _wanted;
    private volatile bool _isAsked;

    public IReviewShelf Shelf { get; private set; } = null!;

    /// <summary>Whether the answer that was held back last is still wanted.</summary>
    public bool IsWanted => !_wanted.IsCancellationRequested;

    public static SlowShelf Before(IReviewShelf behind)
    {
        var shelf = Create<IReviewShelf, SlowShelf>();
        var slow = (SlowShelf)(object)shelf;
        (slow._behind, slow.Shelf) = (behind, shelf);
        return slow;
    }

    /// <summary>From now on a call waits for the answer, or for what goes wrong instead.</summary>
    public TaskCompletionSource Hold(string call = nameof(IReviewShelf.ListAsync))
    {
        var until = new TaskCompletionSource();
        (_isAsked, _held) = (false, (call, until.Task));
        return until;
    }

    /// <summary>What is asked from now on is answered at once. By then something is held back: a page asks when its thread comes to it.</summary>
    public async Task LetGoAsync()
    {
        await Until.Holds(() => _isAsked, () => "Nothing was asked that could be held back.");
        _held = null;
    }

    protected override object? Invoke(MethodInfo? targetMethod, object?[]? args)
    {
        object? Answer() => targetMethod!.Invoke(_behind, [.. args!.Select(a => a is CancellationToken ? CancellationToken.None : a)]);
        if (_held is not { } held || held.Call != targetMethod!.Name)
        {
            return Answer();
        }

        (_wanted, _isAsked) = (args!.OfType<CancellationToken>().Single(), true);
        return LaterOf.MakeGenericMethod(targetMethod.ReturnType.GetGenericArguments()).Invoke(null, [held.Until, (Func<object?>)Answer]);
    }

    private static async Task<T> LaterAsync<T>(Task until, Func<object?> answer)
    {
        await until;
        return await (Task<T>)answer()!;
    }
}
