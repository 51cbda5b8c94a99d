namespace Pairbench.Measuring;

/// <summary>
/// How surely a measured input is taken to be known where a number other than zero comes without an uncertainty; one that states its own keeps it, a stated zero too.
/// A plain zero is a choice of the origin and not a reading.
/// </summary>
/// <param name="standardUncertainty">In the unit of its <see cref="InUnitAttribute"/>.</param>
[AttributeUsage(AttributeTargets.Parameter | AttributeTargets.Property)]
public sealed class ReadToAttribute(double standardUncertainty) : Attribute
{
    public double StandardUncertainty { get; } = standardUncertainty;
}
