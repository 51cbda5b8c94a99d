using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>Features read by hand: means of repeats, and what had to be taken for granted of them.</summary>
internal sealed class CalliperLengths(ImmutableArray<CalliperReadings> readings, string entry)
{
    /// <summary>Of an instrument whose certificate is not at hand, mm (common practice, no source).</summary>
    private const double InstrumentMm = 0.03;

    /// <summary>What one reading of a soft edge by hand may be off by, mm (common practice, no source).</summary>
    private const double UnrepeatedMm = 0.3;

    public ImmutableDictionary<string, PairLength> Lengths { get; } = readings.ToImmutableDictionary(r => r.Feature, r => Of(r, entry), StringComparer.Ordinal);

    public IEnumerable<string> Assumptions()
    {
        if (Named(r => r.StandardUncertaintyMm is null) is { Length: > 0 } without)
        {
            yield return Said($"The standard uncertainty of the instrument is not stated for {without}: {InstrumentMm} mm is taken (common practice, no source).");
        }

        foreach (var step in readings.Where(r => r.ResolutionMm is null).GroupBy(Resolution).OrderBy(g => g.Key))
        {
            yield return Said($"The smallest step of the instrument is not stated and is taken from the last digit given: {step.Key:0.#########} mm for {string.Join(", ", step.Select(r => r.Feature))}.");
        }

        if (Named(r => Pooled(r) is null) is { Length: > 0 } single)
        {
            yield return Said($"One reading of each shoe shows no spread: {UnrepeatedMm} mm is taken as the standard uncertainty of a hand on a soft edge for {single} (common practice, no source).");
        }

        if (Named(r => Pooled(r) is not null && (r.Left.Length == 1 || r.Right.Length == 1)) is { Length: > 0 } half)
        {
            yield return $"A shoe that was read once is taken to spread as the readings of the other do: {half}.";
        }

        if (!readings.IsEmpty)
        {
            yield return "Both shoes are taken to be read with one instrument, whose own error falls out of the difference.";
        }
    }

    public IEnumerable<string> Cautions()
    {
        if (Named(r => r.Left.Length == 1 || r.Right.Length == 1) is { Length: > 0 } single)
        {
            yield return $"Read once only, so that a slip does not show: {single}. Read each shoe at least three times, with the calliper taken off in between.";
        }

        if (Named(r => r.Instrument is null) is { Length: > 0 } unnamed)
        {
            yield return $"The instrument is not named: {unnamed}. Without it a factory contests a reading.";
        }
    }

    private string Named(Func<CalliperReadings, bool> which) => string.Join(", ", readings.Where(which).Select(r => r.Feature));

    private static string Said(FormattableString words) => words.ToString(CultureInfo.InvariantCulture);

    private static double Resolution(CalliperReadings readings) =>
        readings.ResolutionMm ?? Repeats.LastDigit(readings.Left.Concat(readings.Right));

    /// <summary>
    /// The error of one instrument is the same in both and falls out of the difference. Readings that spread over several steps of the instrument have its rounding in their spread; such as agree are off
    /// by the same part of a step, however many they are.
    /// </summary>
    private static PairLength Of(CalliperReadings readings, string entry)
    {
        var pooled = Pooled(readings);
        var instrument = readings.Instrument is { } name ? $"instrument:{name}" : $"instrument:unnamed:{entry}/{readings.Feature}";
        var rounding = TypeB.Resolution(Resolution(readings));
        Measured Mean(ImmutableArray<decimal> values, string side)
        {
            var spread = pooled is { } p
                ? new Contribution($"readings:{entry}/{readings.Feature}#{side}", Evaluation.TypeA, p.Deviation / Math.Sqrt(values.Length), p.DegreesOfFreedom)
                : new Contribution($"handling:{entry}/{readings.Feature}/{side}", Evaluation.TypeB, UnrepeatedMm);
            return Measured.Of((double)values.Average(), "mm", [
                new Contribution(instrument, Evaluation.TypeB, readings.StandardUncertaintyMm ?? InstrumentMm),
                spread,
                new Contribution($"resolution:{entry}/{readings.Feature}/{side}", Evaluation.TypeB, Math.Sqrt(Math.Max(0, (rounding * rounding) - (spread.Value * spread.Value))))]);
        }

        return new PairLength(Mean(readings.Left, "left"), Mean(readings.Right, "right"));
    }

    private static (double Deviation, int DegreesOfFreedom)? Pooled(CalliperReadings readings)
    {
        var freedom = readings.Left.Length + readings.Right.Length - 2;
        if (freedom < 1)
        {
            return null;
        }

        static double Squares(ImmutableArray<decimal> values)
        {
            var mean = values.Average();
            return (double)values.Sum(v => (v - mean) * (v - mean));
        }

        return (Math.Sqrt((Squares(readings.Left) + Squares(readings.Right)) / freedom), freedom);
    }
}
