using System.Collections.Immutable;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>
/// The inputs of the formulas of one sheet and all its changes. What two of them share is one input, so that it falls out of their difference.
/// </summary>
internal sealed class CostInputs
{
    private readonly List<Measured> _values = [];
    private readonly List<string> _labels = [];
    private readonly Dictionary<Measured, int> _places = new(ReferenceEqualityComparer.Instance);

    public ImmutableArray<Measured> Values => [.. _values];

    /// <param name="label">What it is, as a person would say it.</param>
    /// <returns>Its place.</returns>
    public int Add(string label, Measured value)
    {
        if (_places.TryGetValue(value, out var known))
        {
            return known;
        }

        _values.Add(value);
        _labels.Add(label);
        return _places[value] = _values.Count - 1;
    }

    public string LabelOf(int place) => _labels[place];

    /// <summary>The inputs that a cause is behind, in words.</summary>
    public string NameOf(string cause)
    {
        var labels = _values.Select((v, i) => (v, i)).Where(p => p.v.Budget.Any(c => c.Cause == cause)).Select(p => _labels[p.i]).Distinct().ToArray();
        return labels.Length switch
        {
            0 => CauseWords.Of(cause),
            <= 3 => string.Join(", ", labels),
            _ => $"{labels[0]}, {labels[1]} and {labels.Length - 2} more",
        };
    }

    /// <summary>The inputs as decimals: the fifteen digits that a double is sure of.</summary>
    /// <exception cref="OverflowException">A value is beyond what a decimal holds.</exception>
    public decimal[] AsDecimals() => [.. _values.Select(v => (decimal)v.Value)];
}
