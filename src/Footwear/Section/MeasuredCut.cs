using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Section;

/// <summary>Boundaries of a photographed cut, from outside to inside, and the layers between them.</summary>
internal interface IMeasuredCut
{
    ImmutableArray<string> Assumptions { get; }

    /// <summary>How thickness was come by, in a sentence.</summary>
    string Way { get; }

    int BoundaryCount { get; }

    /// <summary>An edge was found there; else the boundary stands where a hand put it.</summary>
    bool IsFound(int boundary);

    /// <summary>Thickness of the layer between two neighbouring boundaries, mm.</summary>
    Measured Thickness(int layer);

    /// <summary>What else the layer shows, as a table's column; empty where it was measured in one place.</summary>
    LayerSpread? Spread(int layer);
}

/// <summary>How a layer varies along its traced faces, mm.</summary>
/// <param name="AlongMm">Length over which both faces were traced.</param>
internal sealed record LayerSpread(double StandardDeviation, double Thinnest, double Thickest, double AlongMm)
{
    public string Words => FormattableString.Invariant($"{Thinnest:0.00} to {Thickest:0.00} mm over {AlongMm:0} mm, standard deviation {StandardDeviation:0.00} mm");
}
