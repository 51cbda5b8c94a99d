namespace Pairbench.Bench.Tests.Browser;

/// <summary>Steps by key on a board by itself, with a page that notes what it is told.</summary>
[Collection(BrowserTests.Name)]
public sealed class BoardStepTests(BenchFixture bench)
{
    [Fact]
    public Task A_step_is_told_though_the_next_point_is_moved_at_once() =>
        ToldAsync("key('ArrowRight'); key(']'); key('ArrowRight');", "OnMoved a 0 10.1,50", "OnMoved a 1 60.1,50");

    [Fact]
    public Task A_step_is_told_as_it_was_made_though_the_page_shows_older_marks_meanwhile() =>
        ToldAsync("key('ArrowRight'); board.update(state()); key('ArrowRight');", "OnMoved a 0 10.2,50");

    [Fact]
    public Task Undo_takes_back_the_step_that_was_just_made() =>
        ToldAsync("key('ArrowRight'); key('z', true);", "OnMoved a 0 10.1,50", "OnUndo");

    [Fact]
    public Task A_step_is_told_before_its_board_goes() => ToldAsync("key('ArrowRight'); board.dispose();", "OnMoved a 0 10.1,50");

    [Theory]
    [InlineData("1.5")]
    [InlineData("1,5")]
    public Task A_typed_number_has_a_point_or_a_comma(string number) =>
        ToldAsync($"for (const digit of '{number}') key(digit); key('ArrowRight');", "OnMoved a 0 11.5,50");

    private async Task ToldAsync(string does, params string[] told)
    {
        await using var opened = await bench.OpenAsync();
        var said = await opened.Page.EvaluateAsync<string[]>($$"""
            async () => {
              const { create } = await import('/board.js');
              document.body.insertAdjacentHTML('beforeend', '<div class="board"><div><div style="width:400px;height:300px"><canvas tabindex="0"></canvas></div><p data-readout></p></div></div>');
              const root = document.body.lastElementChild.firstElementChild;
              const told = [];
              const page = { invokeMethodAsync: (...values) => { told.push(values.join(' ')); return new Promise(answer => setTimeout(answer, 50)); } };
              const state = () => ({ photo: { url: '/photos/none', width: 200, height: 100 }, tool: 'look', marks: [{ id: 'a', name: 'A', kind: 'path', points: [[10, 50], [60, 50]] }] });
              const board = create(root, page, state());
              const key = (key, ctrlKey = false) => root.querySelector('canvas').dispatchEvent(new KeyboardEvent('keydown', { key, ctrlKey, bubbles: true, cancelable: true }));
              board.select('a', 0);
              {{does}}
              await new Promise(rest => setTimeout(rest, 600));
              return told;
            }
            """);

        Assert.Equal(told, said);
    }
}
