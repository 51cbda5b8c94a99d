using System.Collections.Immutable;

namespace Pairbench.Footwear;

/// <summary>Limits to start from, common practice without a source. None rules a figure until somebody adopts it.</summary>
public sealed record LimitOffersFile(string Edition, string Source, string Words, ImmutableArray<LimitOffer> Offers)
{
    public const string File = "limits/common-practice.json";
}

/// <summary>One offer.</summary>
/// <param name="Unit">Of min and max.</param>
/// <param name="Examination">The examination whose figures it fits; absent where a person has to judge.</param>
/// <param name="Figure">Last level of the figure's id, such as <c>pitch</c>.</param>
public sealed record LimitOffer(
    string Id,
    string Quantity,
    string Component,
    string Unit,
    string Words,
    double? Min = null,
    double? Max = null,
    string? Examination = null,
    string? Figure = null);
