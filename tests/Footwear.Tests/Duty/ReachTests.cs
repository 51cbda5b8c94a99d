using Pairbench.Footwear.Duty;

namespace Pairbench.Footwear.Tests.Duty;

/// <summary>Every line of every schedule can be reached, none is shadowed, and the search agrees with plain evaluation of the table.</summary>
public sealed class ReachTests
{
    private static readonly FactRules Rules = DataFolder.Catalogue.Read<FactRules>(FactRules.File);

    [Theory]
    [InlineData(Market.Us, 125)]
    [InlineData(Market.Eu, 70)]
    [InlineData(Market.Uk, 70)]
    public void Every_line_is_reached_by_some_shoe(Market market, int lines)
    {
        var search = SearchOf(market);
        Assert.Equal(lines, search.Schedule.Lines.Length);
        Assert.Equal(Enumerable.Range(0, lines), search.Reachable(new Known(search.Open(), [])));
    }

    /// <summary>Each reachable set of a shoe with some facts unknown is exactly what completing them one by one and evaluating the table gives.</summary>
    [Theory]
    [InlineData(Market.Us)]
    [InlineData(Market.Eu)]
    public void The_search_agrees_with_enumeration(Market market)
    {
        var search = SearchOf(market);
        var random = new Random(7);
        for (var shoe = 0; shoe < 150; shoe++)
        {
            var cells = search.Open();
            var open = Enumerable.Range(0, cells.Length).OrderBy(_ => random.Next()).Take(6).ToHashSet();
            for (var f = 0; f < cells.Length; f++)
            {
                cells[f] = open.Contains(f) ? cells[f] : OneOf(cells[f], random);
            }

            var enumerated = Completions(cells, 0).Where(c => IsPossible(search, c)).Select(c => First(search, c)).Where(i => i >= 0).Distinct().Order();
            Assert.Equal(enumerated, search.Reachable(new Known(cells, [])));
        }
    }

    /// <summary>
    /// What is open of each letter is completed, and the table evaluated plainly: for each branch some completion falls on it, and of many drawn at random none falls outside.
    /// (A letter leaves some twenty facts open, too many to complete in every way.)
    /// </summary>
    [Theory]
    [MemberData(nameof(Letters.All), MemberType = typeof(Letters))]
    public void The_branches_of_each_letter_are_the_lines_that_completing_its_facts_reaches(string ruling)
    {
        const int Drawn = 500, Tries = 20_000;
        var search = SearchOf(Market.Us);
        var random = new Random(11);
        var known = Letters.Open(ruling, search, Rules);
        var reachable = search.Reachable(known);
        bool Fits(uint[] c) => IsPossible(search, c) && known.Clauses.All(clause => clause.Any(a => (c[search.IndexOf(a.Fact)] & ~a.Cells) == 0));
        foreach (var drawn in Enumerable.Range(0, Drawn).Select(_ => known.Cells.Select(c => OneOf(c, random)).ToArray()).Where(Fits))
        {
            Assert.Contains(First(search, drawn), reachable.Prepend(-1));
        }

        foreach (var line in reachable)
        {
            var cells = (uint[])known.Cells.Clone();
            foreach (var atom in search.Schedule.Lines[line].All)
            {
                var fact = search.IndexOf(atom.Fact);
                cells[fact] = Bits(cells[fact]).Where(bit => Holds(search, atom, With(cells, fact, bit))).Aggregate(0u, (all, bit) => all | bit);
            }

            Assert.True(Enumerable.Range(0, Tries).Select(_ => cells.Select(c => OneOf(c, random)).ToArray()).Any(c => Fits(c) && First(search, c) == line), search.Schedule.Lines[line].Code);
        }
    }

    private static IEnumerable<uint> Bits(uint cells)
    {
        for (; cells != 0; cells &= cells - 1)
        {
            yield return cells & (~cells + 1);
        }
    }

    private static uint[] With(uint[] cells, int fact, uint cell)
    {
        var changed = (uint[])cells.Clone();
        changed[fact] = cell;
        return changed;
    }

    private static LineSearch SearchOf(Market market) => Classification.SearchOf(DataFolder.Catalogue.Read<Schedule>(Schedule.File(market)), Rules);

    private static bool IsPossible(LineSearch search, uint[] c) => Rules.Implications
        .Where(i => search.Uses(i.If.Fact) && search.Uses(i.Then.Fact))
        .All(i => !Holds(search, i.If, c) || Holds(search, i.Then, c));

    private static int First(LineSearch search, uint[] c) => search.Schedule.Lines.ToList().FindIndex(l =>
        l.All.All(a => Holds(search, a, c)) && !l.None.Any(n => n.All(a => Holds(search, a, c))));

    private static bool Holds(LineSearch search, Atom atom, uint[] c)
    {
        var cell = c[search.IndexOf(atom.Fact)];
        if (atom.Is is { } truth)
        {
            return cell == (truth ? 2u : 1u);
        }

        if (!atom.In.IsDefaultOrEmpty)
        {
            return atom.In.Any(w => search.Word(atom.Fact, w) == cell);
        }

        double[] edges = [0, .. search.Thresholds(atom.Fact), 1000];
        var at = System.Numerics.BitOperations.TrailingZeroCount(cell);
        return atom.Holds(at % 2 == 1 ? edges[(at / 2) + 1] : (edges[at / 2] + edges[(at / 2) + 1]) / 2);
    }

    private static IEnumerable<uint[]> Completions(uint[] cells, int from)
    {
        for (var f = from; f < cells.Length; f++)
        {
            if (System.Numerics.BitOperations.PopCount(cells[f]) > 1)
            {
                for (var bits = cells[f]; bits != 0; bits &= bits - 1)
                {
                    var one = (uint[])cells.Clone();
                    one[f] = bits & (~bits + 1);
                    foreach (var completed in Completions(one, f + 1))
                    {
                        yield return completed;
                    }
                }

                yield break;
            }
        }

        yield return cells;
    }

    private static uint OneOf(uint cells, Random random)
    {
        for (var skip = random.Next(System.Numerics.BitOperations.PopCount(cells)); skip > 0; skip--)
        {
            cells &= cells - 1;
        }

        return cells & (~cells + 1);
    }
}
