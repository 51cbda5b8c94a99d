using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Imaging.Geometry;

/// <summary>One uncertain input of a mapping: the causes behind it, each with its share of one standard uncertainty, so that their squares add up to one.</summary>
internal sealed record UncertainInput(ImmutableArray<Contribution> Shares)
{
    /// <summary>An input that is a cause by itself.</summary>
    public static UncertainInput Of(string cause) => new([new Contribution(cause, Evaluation.TypeB, 1)]);

    /// <summary>An input with a budget of its own, which it carries along: what shares a cause with it is correlated with the mapping.</summary>
    /// <param name="value">Not exact.</param>
    /// <param name="name">Of the cause, where its budget names none.</param>
    public static UncertainInput Of(Measured value, string name)
    {
        var whole = Math.Sqrt(value.Budget.Sum(c => c.Value * c.Value));
        return whole > 0 ? new([.. value.Budget.Select(c => c with { Value = c.Value / whole })]) : Of(name);
    }
}

/// <summary>The uncertain inputs of a mapping, independent of each other, and the mapping that follows from any values of them.</summary>
internal interface IUncertainInputs
{
    /// <summary>Each input as it stands in budgets.</summary>
    ImmutableArray<UncertainInput> Causes { get; }

    /// <summary>What was taken for granted, a sentence each.</summary>
    ImmutableArray<string> Assumptions { get; }

    /// <summary>Standard uncertainty of a clicked point along each axis in pixels.</summary>
    double ClickSigmaPx { get; }

    /// <param name="z">The inputs in standard uncertainties from their estimates, in the order of <see cref="Causes"/>.</param>
    /// <exception cref="ScaleException">No mapping follows.</exception>
    IPlaneMap Build(double[] z);
}
