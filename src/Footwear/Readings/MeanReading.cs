using System.Collections.Immutable;
using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Readings;

/// <summary>What an instrument read: the mean, with its uncertainty from repeats, resolution and calibration (JCGM 100:2008, 4.2 and 4.3).</summary>
internal static class MeanReading
{
    /// <param name="own">Name of the item among those of all entries.</param>
    public static ItemValue Of(ReadingItem item, Circumstances circumstances, string own)
    {
        ImmutableArray<double> values = [.. item.Values.Select(v => (double)v)];
        var resolution = item.Resolution ?? Repeats.LastDigit(item.Values);
        var instrument = circumstances.InstrumentId is { } id ? $"instrument:{id}" : $"instrument:unnamed:{own}";
        var mean = Measured.Of(Repeats.Mean(values), item.Unit, [
            .. values.Length > 1 ? [new Contribution($"readings:{own}", Evaluation.TypeA, Repeats.OfMean(values), values.Length - 1)] : ImmutableArray<Contribution>.Empty,
            new Contribution($"resolution:{own}", Evaluation.TypeB, TypeB.Resolution(resolution)),
            new Contribution(instrument, Evaluation.TypeB, circumstances.InstrumentUncertainty())]);
        return new(mean, [], [.. Assumptions(item, resolution)], [.. Cautions(item, circumstances)]);
    }

    private static IEnumerable<string> Assumptions(ReadingItem item, double resolution)
    {
        if (item.Resolution is null)
        {
            yield return FormattableString.Invariant($"{item.Id}: the resolution is not stated and is taken from the last digit given: {resolution:0.#########} {Units.Shown(item.Unit)}").TrimEnd() + ".";
        }
    }

    private static IEnumerable<string> Cautions(ReadingItem item, Circumstances circumstances)
    {
        if (circumstances.CalibrationUncertainty() is null)
        {
            yield return $"{item.Id}: the uncertainty of the calibration is not stated and is not in the interval.";
        }

        if (item.Values.Length == 1)
        {
            yield return $"{item.Id}: one value says nothing of the spread; the interval holds the instrument alone. Read it again.";
        }
    }
}
