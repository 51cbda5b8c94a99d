using System.Collections.Immutable;

namespace Pairbench.Imaging.Geometry;

/// <summary>The uncertain inputs of a mapping, independent of each other, and the mapping that follows from any values of them.</summary>
internal interface IUncertainInputs
{
    /// <summary>Name of each input in budgets.</summary>
    ImmutableArray<string> Causes { get; }

    /// <summary>What was taken for granted, a sentence each.</summary>
    ImmutableArray<string> Assumptions { get; }

    /// <summary>Standard uncertainty of a clicked point along each axis in pixels.</summary>
    double ClickSigmaPx { get; }

    /// <param name="z">The inputs in standard uncertainties from their estimates, in the order of <see cref="Causes"/>.</param>
    /// <exception cref="ScaleException">No mapping follows.</exception>
    IPlaneMap Build(double[] z);
}
