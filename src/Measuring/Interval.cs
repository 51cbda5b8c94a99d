namespace Pairbench.Measuring;

/// <summary>A closed interval of values, lower bound first.</summary>
public readonly record struct Interval
{
    /// <exception cref="ArgumentException">A bound is not a number, or the bounds are the wrong way round.</exception>
    public Interval(double lower, double upper)
    {
        if (!(lower <= upper))
        {
            throw new ArgumentException($"An interval runs from the lower to the upper bound; got {lower} to {upper}.");
        }

        Lower = lower;
        Upper = upper;
    }

    public double Lower { get; }

    public double Upper { get; }

    public double HalfWidth => (Upper - Lower) / 2;

    public bool Contains(double value) => value >= Lower && value <= Upper;
}
