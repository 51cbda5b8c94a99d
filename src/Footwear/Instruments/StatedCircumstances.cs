using System.ComponentModel.DataAnnotations;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Instruments;

/// <summary>What an entry of readings states about all of them.</summary>
/// <param name="Instrument">Id of an instrument of the review, or of one described here by its calibration.</param>
/// <param name="ReadOn">Day of the readings; else that of the review.</param>
public sealed record StatedCircumstances(
    string? Operator = null,
    [RegularExpression(Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string? Instrument = null,
    Calibration? Calibration = null,
    TestBlock? TestBlock = null,
    Room? Room = null,
    [InUnit("h"), Range(0, 1e6)] Measured? HoursSinceMoulding = null,
    string? Standard = null,
    string? Edition = null,
    DateOnly? ReadOn = null)
{
    /// <summary>The standard with its edition; null where none is stated.</summary>
    public string? StandardWords => Standard is null || Edition is null ? Standard : $"{Standard}:{Edition}";

    /// <summary>What holds for one reading of the entry: an instrument of its own has neither the calibration nor the test block that the entry states for another.</summary>
    /// <param name="reader">Who took the reading, where it says so.</param>
    /// <param name="instrument">What it was taken with, where it says so.</param>
    public StatedCircumstances For(string? reader, string? instrument)
    {
        var isOwn = instrument is not null && instrument != Instrument;
        return this with
        {
            Operator = string.IsNullOrWhiteSpace(reader) ? Operator : reader,
            Instrument = instrument ?? Instrument,
            Calibration = isOwn ? null : Calibration,
            TestBlock = isOwn ? null : TestBlock,
        };
    }
}
