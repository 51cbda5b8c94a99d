using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Instruments;

/// <summary>What is known of an instrument's calibration; tolerance and uncertainty are in the unit that it reads.</summary>
/// <param name="Tolerance">Half-width that the true deviation is taken to lie in, evenly.</param>
/// <param name="StandardUncertainty">From the certificate; goes before the tolerance.</param>
public sealed record Calibration(
    [Description("the date of the calibration as 2026-11-25")] DateOnly? On = null,
    [Description("the date until which it holds as 2026-11-25")] DateOnly? Until = null,
    string? Certificate = null,
    [Range(0, 1e9), Description("the greatest deviation in the unit of the instrument")] double? Tolerance = null,
    [Range(0, 1e9), Description("the standard uncertainty in the unit of the instrument")] double? StandardUncertainty = null) : IAgreeing
{
    IEnumerable<Fault> IAgreeing.Disagreements(string where) => Dates.LastBeforeFirst(where, "until", Until, On, "it was calibrated");
}

/// <summary>A check on a block or weight of known value, taken with the readings.</summary>
public sealed record TestBlock(
    [Range(-1e15, 1e15), Description("the value of the block")] double Nominal,
    [Range(-1e15, 1e15), Description("what the instrument read on the block")] double Reading)
{
    /// <summary>Reading less nominal.</summary>
    public double Deviation => Reading - Nominal;
}
