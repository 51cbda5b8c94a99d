using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;
using static Pairbench.Footwear.Plain;

namespace Pairbench.Footwear.Instruments;

/// <summary>
/// Who read what, with which instrument and where: the facts without which a factory contests a reading.
/// </summary>
internal sealed record Circumstances(
    string? Operator,
    string? InstrumentId,
    Calibration? Calibration,
    TestBlock? TestBlock,
    Room? Room,
    Measured? HoursSinceMoulding,
    string? Standard,
    DateOnly? ReadOn)
{
    private const string Contested = "without it a factory contests a reading.";

    /// <summary>What the evidence says, completed from the review where the evidence says nothing.</summary>
    public static Circumstances Of(StatedCircumstances stated, Subject subject)
    {
        var (instrument, calibration) = (stated.Instrument, stated.Calibration);
        var known = instrument is null ? null : subject.Instruments.FirstOrDefault(i => i.Id == instrument);
        return new Circumstances(
            Known(stated.Operator) ?? Known(subject.Examiner?.Name),
            instrument,
            known is null
                ? calibration
                : (calibration ?? new Calibration()) with
                {
                    On = calibration?.On ?? known.CalibratedOn,
                    Until = calibration?.Until ?? known.CalibrationUntil,
                    Certificate = calibration?.Certificate ?? known.Certificate,
                },
            stated.TestBlock,
            stated.Room ?? subject.Room,
            stated.HoursSinceMoulding,
            stated.StandardWords,
            stated.ReadOn ?? subject.Examiner?.Date);
    }

    /// <summary>Standard uncertainty that the calibration leaves, in the unit of the instrument: its certificate goes before its tolerance; null where neither is known.</summary>
    /// <param name="usualTolerance">Of such instruments, where no tolerance is stated.</param>
    public double? CalibrationUncertainty(double? usualTolerance = null) =>
        Calibration?.StandardUncertainty ?? ((Calibration?.Tolerance ?? usualTolerance) is { } tolerance ? TypeB.Uniform(tolerance) : null);

    /// <summary>The same, zero where it is not known, and no less than what a test block shows: the readings are not corrected for what it was missed by.</summary>
    public double InstrumentUncertainty(double? usualTolerance = null) =>
        Math.Max(CalibrationUncertainty(usualTolerance) ?? 0, TestBlock is { } block ? TypeB.Uniform(Math.Abs(block.Deviation)) : 0);

    /// <summary>What the reader must heed, a sentence each.</summary>
    public IEnumerable<string> Cautions()
    {
        if (Operator is null)
        {
            yield return "The operator is not named: " + Contested;
        }

        if (InstrumentId is null)
        {
            yield return "The instrument is not named: " + Contested;
        }

        if (Calibration?.On is null && Calibration?.Until is null)
        {
            yield return $"The calibration date of {Instrument} is not stated: {Contested}";
        }

        if (Calibration?.Until is { } until && ReadOn is { } date && until < date)
        {
            yield return $"The calibration of {Instrument} ran out on {Display.Day(until)}, before the readings of {Display.Day(date)}: have it calibrated and read again.";
        }

        if (Calibration is { On: { } made, Until: { } ends } && ends < made)
        {
            yield return $"The calibration of {Instrument} is dated {Display.Day(made)} and holds until {Display.Day(ends)}, before that: check the dates.";
        }

        if (Calibration?.On is { } on && ReadOn is { } day && on > day)
        {
            yield return $"The calibration of {Instrument} is dated {Display.Day(on)}, after the readings of {Display.Day(day)}: check the dates.";
        }
    }

    /// <summary>What had to be taken for granted, a sentence each.</summary>
    /// <param name="isTemperatureStated">Whether each reading states its own temperature, so that the room's has no part.</param>
    public IEnumerable<string> Assumptions(bool isTemperatureStated = false)
    {
        if (TestBlock is null)
        {
            yield return $"{char.ToUpperInvariant(Instrument[0])}{Instrument[1..]} was not checked on a test block: it is taken to read true within its tolerance.";
        }

        if (Room?.TemperatureC is null && !isTemperatureStated)
        {
            yield return "The temperature of the room is not stated and is taken to be that of the standard.";
        }

        if (Room?.HumidityPct is null)
        {
            yield return "The humidity of the room is not stated and is taken to be that of the standard.";
        }

        if (Calibration?.Until is not null && ReadOn is null)
        {
            yield return "The readings have no date, so the calibration could not be held against it.";
        }
    }

    /// <summary>Everything stated, as rows for the report, with a column for all that was read alike; none where nothing was read.</summary>
    /// <param name="taken">Circumstances with what was read in them.</param>
    public static IEnumerable<Table> Tables(IEnumerable<(Circumstances Circumstances, IReadOnlyList<string> Of)> taken)
    {
        var all = taken.Select(t => (Rows: t.Circumstances.Rows(), t.Of)).ToImmutableArray();
        if (all is [var first, ..])
        {
            yield return new Table(
                "circumstances",
                "How the readings were taken",
                [new Column("what", "What"), .. all.Select((t, i) => new Column(i == 0 ? "stated" : string.Create(CultureInfo.InvariantCulture, $"stated-{i + 1}"), all.Length == 1 ? "Stated" : Few(t.Of)))],
                [.. first.Rows.Select((r, i) => ImmutableArray.CreateRange<Cell>([r.Name, .. all.Select(t => t.Rows[i].Value ?? "not stated")]))]);
        }
    }

    private static string Few(IReadOnlyList<string> names) => names.Count > 4
        ? string.Create(CultureInfo.InvariantCulture, $"{string.Join(", ", names.Take(3))} and {names.Count - 3} more")
        : string.Join(", ", names);

    private ImmutableArray<(string Name, Cell? Value)> Rows() =>
        [
            ("operator", Text(Operator)),
            ("instrument", Text(InstrumentId)),
            ("calibrated on", Text(Calibration?.On is { } on ? Display.Day(on) : null)),
            ("calibration until", Text(Calibration?.Until is { } until ? Display.Day(until) : null)),
            ("certificate", Text(Calibration?.Certificate)),
            ("test block", Text(TestBlock is { } block ? $"nominal {Number(block.Nominal)}, read {Number(block.Reading)}" : null)),
            ("room temperature", Value(Room?.TemperatureC)),
            ("room humidity", Value(Room?.HumidityPct)),
            ("hours since moulding", Value(HoursSinceMoulding)),
            ("standard", Text(Standard)),
        ];

    private string Instrument => InstrumentId is null ? "the instrument" : $"instrument {InstrumentId}";

    private static Cell.Text? Text(string? words) => words is null ? null : new Cell.Text(words);

    private static Cell.Number? Value(Measured? measured) => measured is null ? null : new Cell.Number(measured);

    private static string? Known(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

}
