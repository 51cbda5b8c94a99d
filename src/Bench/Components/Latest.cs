namespace Pairbench.Bench.Components;

/// <summary>What a page asks for: of several questions the latest counts, and none once the page has left. Answers may overtake each other.</summary>
public sealed class Latest : IDisposable
{
    private CancellationTokenSource _asked = new();
    private bool _left;

    /// <summary>Asks anew; what was asked before is called off.</summary>
    /// <returns>Called off as soon as the answer is no longer wanted.</returns>
    public CancellationToken Next()
    {
        if (_left)
        {
            return new CancellationToken(true);
        }

        _asked.Cancel();
        _asked.Dispose();
        _asked = new CancellationTokenSource();
        return _asked.Token;
    }

    public void Dispose()
    {
        if (!_left)
        {
            _left = true;
            _asked.Cancel();
            _asked.Dispose();
        }
    }
}
