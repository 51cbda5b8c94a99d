using System.Collections.Immutable;
using Pairbench.Bench.Hosting;
using Pairbench.Footwear;

namespace Pairbench.Bench.Sheets;

/// <summary>How what the examinations say stands to the latest text.</summary>
internal enum JudgedState
{
    /// <summary>It is of the latest text.</summary>
    UpToDate,

    /// <summary>The latest text is being examined.</summary>
    Examining,

    /// <summary>The examination of the latest text was called off.</summary>
    CalledOff,
}

/// <summary>What the examinations say of one text of a document.</summary>
/// <param name="Examined">Null before the first, and where the text cannot be examined at all.</param>
/// <param name="Faults">What is wrong with the text.</param>
/// <param name="At">How far the examination of the latest text has come; null before its first entry, and where none is examined.</param>
internal sealed record Judged(string Text, Examined? Examined, ImmutableArray<Fault> Faults, JudgedState State, EntryProgress? At = null);

/// <summary>Examines what becomes of one document beside its page: the latest text only, after a short rest.</summary>
/// <param name="judged">Called once a text is judged, on any thread.</param>
/// <param name="moved">Called as the examination goes on to an entry, on any thread.</param>
internal sealed class SheetExaminer(Catalogue catalogue, Plates plates, Func<Task> judged, Action moved) : IDisposable
{
    private static readonly TimeSpan Rest = TimeSpan.FromMilliseconds(150);

    /// <summary>Of all pages together, so that those who type do not wait for many that are examined.</summary>
    private static readonly SemaphoreSlim Turn = new(2);

    private readonly Lock _gate = new();
    private Judged _now = new("", null, [], JudgedState.UpToDate);
    private CancellationTokenSource _running = new();
    private int _latest;
    private bool _isClosed;

    /// <summary>What was said last, whole.</summary>
    public Judged Now
    {
        get
        {
            lock (_gate)
            {
                return _now;
            }
        }
    }

    /// <summary>Examines a text in the place of the one before it.</summary>
    public void Examine(string text, Pictures pictures)
    {
        CancellationTokenSource before;
        CancellationToken cancellation;
        int number;
        lock (_gate)
        {
            if (_isClosed)
            {
                return;
            }

            (before, _running) = (_running, new CancellationTokenSource());
            (cancellation, number, _now) = (_running.Token, ++_latest, _now with { State = JudgedState.Examining, At = null });
        }

        Stop(before);
        _ = Task.Run(() => RunAsync(number, text, pictures, cancellation), CancellationToken.None);
    }

    /// <summary>Calls off what runs: what was said before stays, and the entries that are done need not be examined again.</summary>
    public void CallOff()
    {
        CancellationTokenSource running;
        lock (_gate)
        {
            if (_isClosed || _now.State != JudgedState.Examining)
            {
                return;
            }

            (running, _running) = (_running, new CancellationTokenSource());
            (_latest, _now) = (_latest + 1, _now with { State = JudgedState.CalledOff, At = null });
        }

        Stop(running);
    }

    /// <summary>Takes no further text. What runs goes to its end, so that shelf, trend and lots know of it.</summary>
    public void Close()
    {
        lock (_gate)
        {
            _isClosed = true;
        }
    }

    /// <summary>Takes no further text, and calls off what runs.</summary>
    public void Dispose()
    {
        CancellationTokenSource running;
        lock (_gate)
        {
            if (_isClosed)
            {
                return;
            }

            (_isClosed, running) = (true, _running);
        }

        Stop(running);
    }

    /// <summary>Not under the lock: what is called off goes on at once, on this thread.</summary>
    private static void Stop(CancellationTokenSource run)
    {
        run.Cancel();
        run.Dispose();
    }

    private void Move(int number, EntryProgress at)
    {
        lock (_gate)
        {
            if (number != _latest)
            {
                return;
            }

            _now = _now with { At = at };
        }

        moved();
    }

    private async Task RunAsync(int number, string text, Pictures pictures, CancellationToken cancellation)
    {
        Judged said;
        try
        {
            await Task.Delay(Rest, cancellation);
            await Turn.WaitAsync(cancellation);
            try
            {
                var partly = ReviewRun.ExamineWhatCan(ReviewRun.Read(text), pictures.Source, catalogue, pictures.Memory, new Progress(p => Move(number, p)), cancellation);
                plates.Keep(partly.Examined.Outcomes.SelectMany(o => o.Plates));
                said = new Judged(text, partly.Examined, partly.Faults, JudgedState.UpToDate);
            }
            finally
            {
                Turn.Release();
            }
        }
        catch (Exception) when (cancellation.IsCancellationRequested)
        {
            return;
        }
        catch (FaultsException e)
        {
            // Figures of an earlier text are not shown beside a later one.
            said = new Judged(text, null, e.Faults, JudgedState.UpToDate);
        }
        catch (Exception e)
        {
            // What breaks beside the entries must not take the page with it: the person is told and goes on.
            said = new Judged(text, null, [ReviewRun.Mistake("review", e)], JudgedState.UpToDate);
        }

        lock (_gate)
        {
            if (number != _latest)
            {
                return;
            }

            _now = said;
        }

        await judged();
    }

    /// <summary>Told on the thread that examines, and not later on another.</summary>
    private sealed class Progress(Action<EntryProgress> tell) : IProgress<EntryProgress>
    {
        public void Report(EntryProgress value) => tell(value);
    }
}
