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

    /// <summary>Of three points at the cross the third is wrong: it goes, and nothing that is saved does.</summary>
    [Fact]
    public async Task Undo_takes_back_the_last_point_of_what_is_being_drawn()
    {
        var said = Assert.Single(await SaidAsync("""
            board.update({ ...state(), tool: 'path' });
            board.select(null);
            board.fit();
            for (const of of ['Enter', 'ArrowRight', 'Enter', 'ArrowRight', 'Enter']) key(of);
            key('z', true);
            for (const of of ['ArrowUp', 'Enter', 'Enter']) key(of);
            """));

        Assert.StartsWith("OnDrawn path ", said, StringComparison.Ordinal);
        var drawn = said["OnDrawn path ".Length..].Split(',').Select(n => double.Parse(n, System.Globalization.CultureInfo.InvariantCulture)).ToArray();
        Assert.Equal(6, drawn.Length);
        Assert.Equal((100.0, 50.0), (drawn[0], drawn[1]));
        Assert.True(drawn[2] > 100 && drawn[3] == 50);
        Assert.True(drawn[4] > drawn[2] && drawn[5] < 50);
    }

    [Fact]
    public Task Undo_before_the_first_point_is_the_pages() => ToldAsync("board.update({ ...state(), tool: 'path' }); board.select(null); key('z', true);", "OnUndo");

    /// <summary>Of a photograph beyond what a preview holds, the part in view is fetched: here the first one's arrives after the other one was chosen.</summary>
    [Fact]
    public async Task A_late_part_of_the_photograph_before_is_not_drawn_over_the_one_that_is_shown() => Assert.Equal(["/photos/other"], await SaidAsync("""
        const waiting = [];
        window.Image = class { set src(url) { this.url = url; waiting.push(this); } };
        root.querySelector('canvas').getContext('2d').drawImage = picture => { if (picture.url.includes('/part')) told.push(picture.url.split('/part')[0]); };
        const large = url => ({ ...state(), marks: [], photo: { url, width: 8000, height: 4000 } });
        for (const url of ['/photos/first', '/photos/other']) {
          board.update(large(url));
          waiting.at(-1).onload();
          board.zoom(20);
          await rest(300);
        }
        const parts = waiting.filter(picture => picture.url.includes('/part'));
        if (parts.length !== 2) throw new Error(`${parts.length} parts were asked for.`);
        for (const picture of [parts[1], parts[0]]) picture.onload();
        await rest(200);
        told.splice(0, told.length, ...new Set(told));
        """));

    private async Task ToldAsync(string does, params string[] told) => Assert.Equal(told, await SaidAsync(does));

    private async Task<string[]> SaidAsync(string does)
    {
        await using var opened = await bench.OpenAsync();
        return await opened.Page.EvaluateAsync<string[]>($$"""
            async () => {
              const { create } = await import('/board.js');
              document.body.insertAdjacentHTML('beforeend', '<div class="board"><div><div style="width:400px;height:300px"><canvas tabindex="0"></canvas></div><p data-readout></p></div></div>');
              const root = document.body.lastElementChild.firstElementChild;
              const told = [];
              const page = { invokeMethodAsync: (...values) => { told.push(values.join(' ')); return new Promise(answer => setTimeout(answer, 50)); } };
              const state = () => ({ photo: { url: '/photos/none', width: 200, height: 100 }, tool: 'look', marks: [{ id: 'a', name: 'A', kind: 'path', points: [[10, 50], [60, 50]] }] });
              const board = create(root, page, state());
              const key = (key, ctrlKey = false) => root.querySelector('canvas').dispatchEvent(new KeyboardEvent('keydown', { key, ctrlKey, bubbles: true, cancelable: true }));
              const rest = ms => new Promise(over => setTimeout(over, ms));
              board.select('a', 0);
              {{does}}
              await rest(600);
              return told;
            }
            """);
    }
}
