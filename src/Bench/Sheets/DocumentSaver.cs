using Pairbench.Footwear;

namespace Pairbench.Bench.Sheets;

/// <summary>Saves what becomes of one document: the latest text only, one after the other, until the store has the last. Goes on after the page has left.</summary>
/// <param name="first">How things stand at the beginning.</param>
/// <param name="save">
/// Saves one text. <see cref="SaveState.Saved"/> and <see cref="SaveState.Refused"/> are said of that text; what <see cref="SaveState.HasStopped"/> says is said of
/// all that follow. Whatever else goes wrong is thrown, and tried again.
/// </param>
/// <param name="changed">Called on any thread once <see cref="State"/> is another.</param>
/// <param name="after">What is done after each text, once all know of it.</param>
public sealed class DocumentSaver(SaveState first, Func<string, Task<SaveState>> save, Action changed, Func<Task> after)
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);

    private readonly Lock _gate = new();
    private SaveState _state = first;
    private string? _wanted;
    private bool _running;

    public SaveState State
    {
        get
        {
            lock (_gate)
            {
                return _state;
            }
        }
    }

    /// <summary>Takes a text, unless saving has stopped.</summary>
    public void Save(string text)
    {
        lock (_gate)
        {
            if (_state.HasStopped)
            {
                return;
            }

            (_wanted, _state) = (text, new SaveState.Saving());
            if (_running)
            {
                return;
            }

            _running = true;
        }

        _ = Task.Run(RunAsync);
    }

    /// <summary>Goes on after it had stopped.</summary>
    public void GoOn(SaveState from)
    {
        lock (_gate)
        {
            _state = from;
        }
    }

    private async Task RunAsync()
    {
        while (Next() is { } text)
        {
            SaveState state;
            try
            {
                state = await save(text);
            }
            catch (FaultsException e)
            {
                state = new SaveState.Refused(e.Faults);
            }
            catch (Exception e)
            {
                // Whatever it is, a store's own timeout too.
                lock (_gate)
                {
                    (_state, _wanted) = (new SaveState.Failed(e.Message), _wanted ?? text);
                }

                changed();
                await Task.Delay(Patience);
                continue;
            }

            lock (_gate)
            {
                _wanted = state.HasStopped ? null : _wanted;
                _state = _wanted is null ? state : _state;
            }

            changed();
            await after();
        }
    }

    private string? Next()
    {
        lock (_gate)
        {
            var next = _wanted;
            (_wanted, _running) = (null, next is not null);
            return next;
        }
    }
}
