namespace Pairbench.Measuring;

/// <summary>How much it matters when a limit is broken or a check finds something.</summary>
public enum Severity
{
    Minor,
    Major,
    Critical,
}

/// <summary>What a limit says of a figure.</summary>
public enum Ruling
{
    /// <summary>The true value lies in the limit with at least the stated probability.</summary>
    Within,

    /// <summary>The true value lies in the limit with at most one less the stated probability.</summary>
    Outside,

    /// <summary>Neither is proved.</summary>
    Undecided,
}

/// <summary>A closed range that a figure should lie in. At least one side is given.</summary>
public sealed record Limit
{
    /// <exception cref="ArgumentException">No side is given, they cross, or the probability is not above 0.5 and below 1.</exception>
    public Limit(double? min, double? max, Severity severity, string source, double probability = 0.95)
    {
        if (min is null && max is null)
        {
            throw new ArgumentException("A limit has a min, a max or both.");
        }

        if (min > max)
        {
            throw new ArgumentException($"The min {min} of a limit lies above its max {max}.");
        }

        if (!(probability > 0.5 && probability < 1))
        {
            throw new ArgumentException($"The probability of a limit lies above 0.5 and below 1; got {probability}.");
        }

        Min = min;
        Max = max;
        Severity = severity;
        Source = source;
        Probability = probability;
    }

    public double? Min { get; }

    public double? Max { get; }

    public Severity Severity { get; }

    /// <summary>Where the limit comes from, in words.</summary>
    public string Source { get; }

    /// <summary>Probability that proves the value inside.</summary>
    public double Probability { get; }

    /// <summary>The same limit for a figure in another unit.</summary>
    /// <param name="from">The UCUM unit in which this limit is given.</param>
    /// <returns>Null where a number in the one unit cannot be turned into the other.</returns>
    public Limit? In(string from, string to)
    {
        if (from == to)
        {
            return this;
        }

        return Units.AreComparable(from, to) ? new Limit(Bound(Min), Bound(Max), Severity, Source, Probability) : null;

        double? Bound(double? bound) => bound is { } b ? CustomaryUnits.Turned(b, from, to) : null;
    }

    /// <summary>Probability that the true value lies in the limit (JCGM 106:2012, 7).</summary>
    public double Conformance(Measured measured)
    {
        ArgumentNullException.ThrowIfNull(measured);
        if (measured.IsExact)
        {
            return (Min is not { } min || measured.Value >= min) && (Max is not { } max || measured.Value <= max) ? 1 : 0;
        }

        var below = Max is { } upper ? measured.ProbabilityAtMost(upper) : 1;

        // A limit is closed: what lies on its min exactly, as a grade can, is not under it.
        var under = Min is { } lower ? measured.ProbabilityAtMost(Math.BitDecrement(lower)) : 0;
        return Math.Clamp(below - under, 0, 1);
    }

    /// <summary>What the limit says of a value in its unit: within or outside where its probability is reached, else undecided.</summary>
    public Ruling Rule(Measured measured) => Conformance(measured) switch
    {
        var p when p >= Probability => Ruling.Within,
        var p when p <= 1 - Probability => Ruling.Outside,
        _ => Ruling.Undecided,
    };
}
