using System.Collections.Immutable;
using Pairbench.Measuring;
using static Pairbench.Footwear.Plain;

namespace Pairbench.Footwear.Hardness;

/// <summary>Whether a reading keeps a condition of its standard.</summary>
internal enum Met
{
    Yes,
    No,
    NotStated,
}

/// <summary>One condition of a standard held against one spot.</summary>
/// <param name="Words">What is wrong and what would help; empty where the condition is met or not stated.</param>
internal sealed record ValidityRow(string Spot, string Condition, string Asked, string Given, Met Met, string Words = "");

internal static class Validity
{
    /// <summary>Every condition of the procedure, in the order of the work.</summary>
    public static ImmutableArray<ValidityRow> Of(HardnessSpot spot, Procedure procedure, ScaleFacts scale, HardnessEvidence evidence, Room? room)
    {
        var rows = ImmutableArray.CreateBuilder<ValidityRow>();
        var wanted = (spot.CompoundKnown == true ? procedure.ReadingsKnown : procedure.ReadingsUnknown).Value;
        var compound = spot.CompoundKnown == true ? "a known compound" : "an unknown compound";
        var missing = wanted - spot.Readings.Length;
        rows.Add(new(spot.Id, "count", $"at least {Number(wanted)} for {compound}", Number(spot.Readings.Length), missing <= 0 ? Met.Yes : Met.No,
            missing <= 0 ? "" : $"{spot.Readings.Length} readings where {procedure.Name} asks for {Number(wanted)}: take {Number(missing)} more."));
        Least("thickness", procedure.ThicknessMm, spot.ThicknessMm?.Value, v => $"{Number(v)} mm thick where {procedure.Name} asks for {Number(procedure.ThicknessMm!.Value)} mm: lay pieces of it on each other.");
        if (procedure.Layers is { } layers && spot.Layers is { } laid)
        {
            rows.Add(new(spot.Id, "layers", $"at most {Number(layers.Value)}", Number(laid), laid <= layers.Value ? Met.Yes : Met.No,
                laid <= layers.Value ? "" : $"{laid} pieces on each other where {procedure.Name} allows {Number(layers.Value)}: they may not agree with a solid piece."));
        }

        Least("edge distance", procedure.EdgeMm, spot.EdgeMm?.Value, v => $"{Number(v)} mm from the edge where {procedure.Name} asks for {Number(procedure.EdgeMm!.Value)} mm: the edge gives way and reads too soft.");
        Least("spacing", procedure.SpacingMm, spot.SpacingMm?.Value, v => $"Indentations {Number(v)} mm apart where {procedure.Name} asks for {Number(procedure.SpacingMm!.Value)} mm: move on further each time.");
        rows.Add(Dwell(spot, procedure));
        rows.Add(spot.Backing switch
        {
            null => new(spot.Id, "backing", procedure.Support.Word, "not stated", Met.NotStated),
            Backing.Bench => new(spot.Id, "backing", procedure.Support.Word, "bench", Met.Yes),
            Backing.Finger => new(spot.Id, "backing", procedure.Support.Word, "finger", Met.No, "A finger behind the piece gives way and falsifies the reading: lay it on the bench."),
            _ => new(spot.Id, "backing", procedure.Support.Word, "shoe", Met.No, "Read on the shoe: stand it on its last without a gap beneath, keep off the shank, and compare with readings on a shoe only."),
        });
        rows.Add(Temperature(spot, procedure, room));
        Least("rest after moulding", procedure.HoursSinceMoulding, evidence.Taken.HoursSinceMoulding?.Value, v => $"Read {Number(v)} h after moulding where {procedure.Name} asks for {Number(procedure.HoursSinceMoulding!.Value)} h: let it rest and read again.");
        rows.Add(Range(spot, procedure, scale));
        rows.Add(spot.Surface == ReadSurface.ThroughFace
            ? new(spot.Id, "surface", "the material itself", "through-face", Met.No, "Read through its face: a foam that reads 20 bare can read 40 through fabric. Read it bare or cut to know the material.")
            : new(spot.Id, "surface", "the material itself", spot.Surface == ReadSurface.Cut ? "cut" : "bare", Met.Yes));
        return rows.ToImmutable();

        void Least(string condition, StatedValue? asked, double? given, Func<double, string> words)
        {
            if (asked is null)
            {
                return;
            }

            var unit = condition == "rest after moulding" ? "h" : "mm";
            rows.Add(given is { } value
                ? new(spot.Id, condition, $"at least {Number(asked.Value)} {unit}", $"{Number(value)} {unit}", value >= asked.Value ? Met.Yes : Met.No, value >= asked.Value ? "" : words(value))
                : new(spot.Id, condition, $"at least {Number(asked.Value)} {unit}", "not stated", Met.NotStated));
        }
    }

    /// <summary>The reading time that the procedure asks for; an unknown compound counts as vulcanized (ISO 48-4:2018).</summary>
    public static ImmutableArray<StatedDwell> Dwells(HardnessSpot spot, Procedure procedure) =>
        [.. procedure.Dwells.Where(d => d.Family is null || d.Family == (spot.Family ?? CompoundFamily.Vulcanized))];

    private static ValidityRow Dwell(HardnessSpot spot, Procedure procedure)
    {
        var dwells = Dwells(spot, procedure);
        var asked = string.Join(" or ", dwells.Select(d => d.Words));
        if (spot.DwellS is not { } seconds)
        {
            return new(spot.Id, "dwell", asked, "not stated", Met.NotStated);
        }

        return dwells.Any(d => d.Holds(seconds))
            ? new(spot.Id, "dwell", asked, $"{Number(seconds)} s", Met.Yes)
            : new(spot.Id, "dwell", asked, $"{Number(seconds)} s", Met.No, $"Read after {Number(seconds)} s where {procedure.Name} asks for {asked}: the material creeps, so another time is another quantity.");
    }

    private static ValidityRow Temperature(HardnessSpot spot, Procedure procedure, Room? room)
    {
        var (from, to) = (procedure.TemperatureC.From, procedure.TemperatureC.To);
        var asked = $"{Number(from)} to {Shown.Number(to, "Cel")}";
        if ((spot.TemperatureC ?? room?.TemperatureC) is not { } temperature)
        {
            return new(spot.Id, "temperature", asked, "not stated", Met.NotStated);
        }

        var given = Shown.Number(temperature.Value, "Cel");
        return temperature.Value >= from && temperature.Value <= to
            ? new(spot.Id, "temperature", asked, given, Met.Yes)
            : new(spot.Id, "temperature", asked, given, Met.No, $"Read at {given} where {procedure.Name} asks for {asked}: {(temperature.Value > to ? "warm material reads too soft" : "cold material reads too hard")}.");
    }

    private static ValidityRow Range(HardnessSpot spot, Procedure procedure, ScaleFacts scale)
    {
        var (from, to) = (procedure.Range.From, procedure.Range.To);
        var median = Instruments.Repeats.Median(spot.Readings);
        var asked = $"{Number(from)} to {Number(to)}";
        return median < from
            ? new(spot.Id, "range", asked, Number(median), Met.No, $"{Number(median)} lies below {Number(from)}, where {scale.Label} is not reliable: {scale.LowInstead}.")
            : median > to
                ? new(spot.Id, "range", asked, Number(median), Met.No, $"{Number(median)} lies above {Number(to)}, where {scale.Label} is not reliable: {scale.HighInstead}.")
                : new(spot.Id, "range", asked, Number(median), Met.Yes);
    }
}
