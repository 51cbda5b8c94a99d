using System.Collections.Concurrent;
using Pairbench.Bench.Sheets;
using Pairbench.Footwear;

namespace Pairbench.Bench.Tests.Parts;

public sealed class DocumentSaverTests
{
    private static readonly SaveState.Saved Before = new(DateTimeOffset.UnixEpoch);
    private static readonly SaveState.Saved Kept = new(DateTimeOffset.UnixEpoch.AddDays(1));

    /// <summary>A client of a store tells its own timeout as a cancelled task.</summary>
    [Fact]
    public async Task What_a_store_did_not_take_in_time_is_saved_once_it_does()
    {
        var (tries, states) = (new ConcurrentQueue<string>(), new ConcurrentQueue<SaveState>());
        DocumentSaver saver = null!;
        saver = new DocumentSaver(
            Before,
            text =>
            {
                tries.Enqueue(text);
                return tries.Count == 1 ? throw new TaskCanceledException("The store did not answer in time.") : Task.FromResult<SaveState>(Kept);
            },
            () => states.Enqueue(saver.State),
            () => Task.CompletedTask);

        saver.Save("one");
        await Until.Holds(() => saver.State == Kept);

        Assert.Equal(["one", "one"], tries);
        Assert.Equal([new SaveState.Failed("The store did not answer in time."), Kept], states);
    }

    [Fact]
    public async Task Of_what_comes_while_one_is_saved_the_last_follows()
    {
        var (tries, first) = (new ConcurrentQueue<string>(), new TaskCompletionSource<SaveState>());
        var saver = new DocumentSaver(
            Before,
            text =>
            {
                tries.Enqueue(text);
                return tries.Count == 1 ? first.Task : Task.FromResult<SaveState>(Kept);
            },
            () => { },
            () => Task.CompletedTask);
        saver.Save("one");
        await Until.Holds(() => tries.Count == 1);
        saver.Save("two");
        saver.Save("three");
        Assert.IsType<SaveState.Saving>(saver.State);

        first.SetResult(new SaveState.Refused([new Fault("size", "is missing", "give it")]));
        await Until.Holds(() => saver.State == Kept);

        Assert.Equal(["one", "three"], tries);
    }

    [Fact]
    public async Task After_a_conflict_nothing_is_saved_until_it_goes_on()
    {
        var tries = new ConcurrentQueue<string>();
        var saver = new DocumentSaver(
            Before,
            text =>
            {
                tries.Enqueue(text);
                return Task.FromResult<SaveState>(tries.Count == 1 ? new SaveState.Gone() : Kept);
            },
            () => { },
            () => Task.CompletedTask);
        saver.Save("one");
        await Until.Holds(() => saver.State is SaveState.Gone);
        saver.Save("two");
        Assert.IsType<SaveState.Gone>(saver.State);

        saver.GoOn(Before);
        saver.Save("three");
        await Until.Holds(() => saver.State == Kept);

        Assert.Equal(["one", "three"], tries);
    }
}
