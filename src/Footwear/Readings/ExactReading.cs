using System.Collections.Immutable;
using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Readings;

/// <summary>How the values of an item are known.</summary>
internal enum Known
{
    /// <summary>By an instrument, with its uncertainty.</summary>
    Measured,

    /// <summary>Cracks, or cycles run: whole numbers from 0.</summary>
    Counted,

    /// <summary>What the test was set to and the piece stood, such as the energy of an impact.</summary>
    SetLevel,

    /// <summary>By eye, in steps.</summary>
    Graded,
}

/// <summary>Counts and set levels: exact piece by piece.</summary>
internal static class ExactReading
{
    /// <summary>The item's own word goes before that of its requirement; what has a unit of its own is no count.</summary>
    public static Known KnownOf(ReadingItem item, Requirement? requirement) => (item.Counted ?? requirement?.Counted ?? false) switch
    {
        _ when ItemRead.StepsOf(item) is not null => Known.Graded,
        false => Known.Measured,
        true => IsNumber(item.Unit) ? Known.Counted : Known.SetLevel,
    };

    public static IEnumerable<Fault> Faults(ReadingItem item, Known known, string where)
    {
        if (known == Known.Graded && item.Counted is true)
        {
            yield return new Fault(where + ".counted", "stands on a grade by eye", "leave it out: the values of a grade are steps in order");
        }

        foreach (var (value, i) in item.Values.Select((v, i) => (v, i)).Where(v => known == Known.Counted && (v.v < 0 || v.v != decimal.Truncate(v.v))))
        {
            yield return new Fault($"{where}.values[{i}]", FormattableString.Invariant($"is {value}, which is no count"), "give a whole number from 0, or \"counted\": false where it was measured");
        }
    }

    /// <summary>The mean of pieces that differ, which spreads as they do; a limit is held against the worst piece.</summary>
    /// <seealso cref="Figure.Ruled"/>
    public static ItemValue Of(ReadingItem item, string own)
    {
        ImmutableArray<double> values = [.. item.Values.Select(v => (double)v)];
        if (values.All(v => v == values[0]))
        {
            return new(Measured.Exact(values[0], item.Unit), [], [], []);
        }

        return new(
            Measured.Of(Repeats.Mean(values), item.Unit, $"readings:{own}", Repeats.OfMean(values), Evaluation.TypeA, values.Length - 1),
            [],
            [$"{item.Id}: counted, so known exactly; the figure is the mean of {values.Length} pieces, and a limit is held against the worst of them."],
            []);
    }

    /// <summary>A plain number, an annotation such as <c>{cracks}</c>, or a word that is no unit.</summary>
    private static bool IsNumber(string unit) => unit is "" or "1" || unit[0] == '{' || !Units.AreComparable(unit, unit);
}
