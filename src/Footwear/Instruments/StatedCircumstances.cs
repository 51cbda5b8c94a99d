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
}
