using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <param name="Met">Null where the evidence does not say.</param>
/// <param name="Effect">What an unmet condition does to the reading.</param>
internal sealed record ValidityRow(string Spot, string Condition, string Required, string Found, bool? Met, string Basis, string Effect);

/// <summary>Readings against the conditions of a standard.</summary>
internal static class Validity
{
    public static IEnumerable<ValidityRow> Of(HardnessSpot spot, ScaleConditions asks, HardnessEvidence evidence)
    {
        var count = evidence.KnownMaterial ? asks.Readings : asks.ReadingsUnknownMaterial;
        var source = $"{asks.Standard}:{asks.Edition}";
        var lacking = count - spot.Readings.Length;
        yield return new ValidityRow(spot.Id, "number of readings", $"at least {Number(count)}", Number(spot.Readings.Length), lacking <= 0, $"{source}, {asks.ReadingsBasis}", lacking > 0 ? $"Take {Number(lacking)} more." : "");
        yield return AtLeast(spot.Id, "thickness", asks.ThicknessMm, spot.ThicknessMm, $"{source}, {asks.ThicknessBasis}", "A thin piece reads harder than its material: put it on itself to the thickness asked.");
        yield return AtLeast(spot.Id, "distance to the edge", asks.EdgeMm, spot.EdgeMm, $"{source}, {asks.EdgeBasis}", "Near an edge the piece gives way and reads softer.");
        yield return AtLeast(spot.Id, "spacing", asks.SpacingMm, spot.SpacingMm, $"{source}, {asks.SpacingBasis}", "A place that was just pressed reads differently.");
        yield return new ValidityRow(
            spot.Id,
            "reading time",
            $"{Number(asks.DwellS[0])} to {Number(asks.DwellS[1])} s",
            spot.DwellS is { } dwell ? $"{Number(dwell)} s" : "not stated",
            spot.DwellS is { } time ? time >= asks.DwellS[0] && time <= asks.DwellS[1] : null,
            $"{source}, {asks.DwellBasis}",
            "Readings after different times are not one quantity.");
        yield return new ValidityRow(
            spot.Id,
            "backing",
            "flat and hard",
            spot.Backing switch { ReadingBacking.Bench => "bench", ReadingBacking.Shoe => "on the shoe", ReadingBacking.Finger => "finger", _ => "not stated" },
            spot.Backing is { } backing ? backing == ReadingBacking.Bench : null,
            $"{source}, read",
            spot.Backing == ReadingBacking.Finger ? "A finger behind a thin pad gives way: the reading is too soft." : "On the shoe, fill the gap behind and keep off the shank.");
        yield return Temperature(spot, evidence);
        var median = SmallSamples.Median(spot.Readings);
        yield return new ValidityRow(
            spot.Id,
            "range of the scale",
            $"{Number(asks.Lowest)} to {Number(asks.Highest)}",
            Number(median),
            median >= asks.Lowest && median <= asks.Highest,
            $"{source}, {asks.RangeBasis}",
            median < asks.Lowest ? $"Too soft for this scale: {asks.Below}." : $"Too hard for this scale: {asks.Above}.");
    }

    private static ValidityRow Temperature(HardnessSpot spot, HardnessEvidence evidence)
    {
        var temperature = spot.TemperatureC ?? evidence.RoomTemperatureC;
        return new ValidityRow(
            spot.Id,
            "temperature",
            "21 to 25 °C",
            temperature is { } t ? $"{Number(t.Value)} °C" : "not stated",
            temperature is { } measured ? measured.Value is >= 21 and <= 25 : null,
            "ISO 23529 conditioning, read",
            "Rubber and foam read softer when warm.");
    }

    private static ValidityRow AtLeast(string spot, string condition, double least, Measured? found, string basis, string effect) => new(
        spot,
        condition,
        $"at least {Number(least)} mm",
        found is { } value ? Display.Of(value) : "not stated",
        found is { } measured ? measured.Value >= least : null,
        basis,
        effect);

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
