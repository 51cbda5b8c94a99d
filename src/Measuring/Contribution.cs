namespace Pairbench.Measuring;

/// <summary>How a standard uncertainty was evaluated (JCGM 100:2008, 4.2 and 4.3).</summary>
public enum Evaluation
{
    /// <summary>From the spread of repeated observations.</summary>
    TypeA,

    /// <summary>From anything else: certificates, resolution, experience, models.</summary>
    TypeB,
}

/// <summary>
/// One cause's share in the uncertainty of a value: the sensitivity times the standard uncertainty of the cause, with its sign.
/// Contributions with an equal <paramref name="Cause"/> are fully correlated, within one value and between values.
/// </summary>
/// <remarks>
/// Causes that differ only after a <c>#</c> (<c>fit:a#1</c>, <c>fit:a#2</c>) are independent parts of one joint estimate: their uncertainties were found
/// from the same readings and share one set of degrees of freedom.
/// </remarks>
/// <param name="Cause">Name of the cause, such as <c>scale:photo-3</c>.</param>
/// <param name="Evaluation">Type A or type B.</param>
/// <param name="Value">Signed contribution in the unit of the value; finite.</param>
/// <param name="DegreesOfFreedom">Above zero; <see cref="double.PositiveInfinity"/> where the uncertainty is taken as known.</param>
public readonly record struct Contribution(string Cause, Evaluation Evaluation, double Value, double DegreesOfFreedom = double.PositiveInfinity)
{
    /// <summary>The joint estimate that the cause is a part of; the cause itself where it is alone.</summary>
    public string Estimate => Cause.IndexOf('#', StringComparison.Ordinal) is var at and >= 0 ? Cause[..at] : Cause;
}
