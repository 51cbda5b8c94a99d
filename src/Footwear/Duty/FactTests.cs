using System.Collections.Immutable;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Duty;

/// <summary>Facts that follow from measured ones by the tests of <c>data/tariff/facts.json</c>.</summary>
internal static class FactTests
{
    public const string WithAccessories = "upper.externalAreaWithAccessoriesPct.";

    /// <summary>Puts what follows among the answers; an answer given by hand that disagrees is a fault.</summary>
    /// <param name="accessories">Readings of the upper's areas, accessories and reinforcements included.</param>
    /// <returns>Places whose numbers are known but straddle the threshold.</returns>
    public static ImmutableHashSet<string> Run(ImmutableDictionary<string, object>.Builder answers, ImmutableArray<FactTest> tests, ImmutableArray<ImmutableDictionary<string, Extent>> accessories, List<Fault> faults)
    {
        var undecided = ImmutableHashSet.CreateBuilder<string>(StringComparer.Ordinal);
        if (accessories is [var only])
        {
            foreach (var (material, share) in only)
            {
                answers[WithAccessories + material] = share;
            }
        }

        var given = answers.ToImmutable();
        foreach (var test in tests)
        {
            var (truth, known) = Truth(test, given, accessories);
            var found = truth switch { true => test.Then, false => test.Otherwise, _ => (bool?)null };
            if (truth is null && known)
            {
                undecided.Add(test.Place);
            }

            if (found is not { } derived)
            {
                continue;
            }

            if (answers.GetValueOrDefault(test.Place) is bool said && said != derived)
            {
                faults.Add(new Fault("facts." + test.Place, $"is {FactWords.Of(said)}, but {string.Join(" and ", test.If.Select(i => $"{FactWords.Of(i.Fact)} {Shown(given, i.Fact)}"))} says {FactWords.Of(derived)} ({test.Law})", "give one of them, or values that agree"));
            }

            answers[test.Place] = derived;
        }

        return undecided.ToImmutable();
    }

    private static (bool? Truth, bool IsKnown) Truth(FactTest test, ImmutableDictionary<string, object> answers, ImmutableArray<ImmutableDictionary<string, Extent>> accessories)
    {
        var readings = test.If.Any(i => i.Fact.StartsWith(WithAccessories, StringComparison.Ordinal)) ? accessories : [[]];
        var all = readings.Select(r => test.If.Select(i => Atom(i, Of(i.Fact, answers, r))).ToArray()).ToArray();
        var truths = all.Select(atoms => atoms.Any(a => a.Holds is false) ? false : atoms.All(a => a.Holds is true) ? true : (bool?)null).Distinct().ToArray();
        return (truths is [var one] ? one : null, all.All(atoms => atoms.All(a => a.IsKnown)));
    }

    private static object? Of(string place, ImmutableDictionary<string, object> answers, ImmutableDictionary<string, Extent> reading) =>
        place.StartsWith(WithAccessories, StringComparison.Ordinal) ? reading.GetValueOrDefault(place[WithAccessories.Length..]) : answers.GetValueOrDefault(place);

    private static (bool? Holds, bool IsKnown) Atom(Atom atom, object? answer) => answer switch
    {
        bool truth => (truth == atom.Is, true),
        Extent { SaysNothing: false } extent => (atom.Holds(extent), true),
        _ => (null, false),
    };

    private static string Shown(ImmutableDictionary<string, object> answers, string place) => answers.GetValueOrDefault(place) is { } known ? FactWords.Said(known) : "(as its coat or print counts)";
}
