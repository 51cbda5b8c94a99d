using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Bench.Components;

/// <summary>The units in which a page shows what is kept in millimetres and degrees Celsius.</summary>
/// <param name="Customary">Inches and degrees Fahrenheit.</param>
/// <param name="Choose">Called with true for inches and degrees Fahrenheit.</param>
public sealed record UnitsShown(bool Customary, Func<bool, Task> Choose)
{
    public static UnitsShown Metric { get; } = new(false, _ => Task.CompletedTask);

    public Measured Of(Measured measured) => Customary ? CustomaryUnits.Of(measured) : measured;

    /// <summary>A difference: zero stays zero on either scale of temperature.</summary>
    public Measured OfDifference(Measured difference) => Customary ? CustomaryUnits.OfDifference(difference) : difference;

    /// <param name="unit">The UCUM unit in which it is kept.</param>
    public string Of(string unit) => Customary ? CustomaryUnits.For(unit) : unit;

    public Figure Of(Figure figure)
    {
        ArgumentNullException.ThrowIfNull(figure);
        return Customary
            ? figure with
            {
                Measured = Of(figure.Measured),
                Pieces = [.. figure.Pieces.Select(p => Of(Measured.Exact(p, figure.Measured.Unit)).Value)],
                Limit = figure.Limit is { } limit ? CustomaryUnits.Of(limit, figure.Measured.Unit) : null,
                Offer = figure.Offer is { } offer ? CustomaryUnits.Of(offer, figure.Measured.Unit) : null,
            }
            : figure;
    }
}
