namespace Pairbench.Measuring;

/// <summary>How much of a spread comes from the gauge and its users and how much from the parts; variances in the square of the unit.</summary>
/// <param name="Repeatability">The gauge: repeats by one appraiser on one part.</param>
/// <param name="Reproducibility">The appraisers, their own ways with parts included.</param>
/// <param name="Part">The parts.</param>
public sealed record GaugeStudy(double Repeatability, double Reproducibility, double Part)
{
    public double Gauge => Repeatability + Reproducibility;

    public double Total => Gauge + Part;

    /// <summary>Gauge over total standard deviation, in %.</summary>
    public double PercentOfStudy => 100 * Math.Sqrt(Gauge / Total);

    /// <summary>Classes of parts that the gauge can tell apart, not truncated (common practice).</summary>
    public double DistinctCategories => 1.41 * Math.Sqrt(Part / Gauge);

    /// <summary>By analysis of variance. An interaction that chance explains is pooled into the repeats.</summary>
    /// <param name="readings">Parts by appraisers by repeats.</param>
    /// <param name="poolAbove">The interaction is pooled when its probability lies above this (common practice: 0.25).</param>
    public static GaugeStudy ByVariance(double[,,] readings, double poolAbove = GaugeVariance.PoolAbove) => GaugeVariance.Of(readings, poolAbove).Study;

    /// <summary>By averages and ranges (common practice). Two or three repeats, two or three appraisers, two to ten parts.</summary>
    /// <param name="readings">Parts by appraisers by repeats.</param>
    public static GaugeStudy ByRange(double[,,] readings)
    {
        ArgumentNullException.ThrowIfNull(readings);
        var (parts, appraisers, repeats) = (readings.GetLength(0), readings.GetLength(1), readings.GetLength(2));
        if (repeats is not (2 or 3) || appraisers is not (2 or 3) || parts is < 2 or > 10)
        {
            throw new ArgumentException($"Averages and ranges take 2 or 3 repeats, 2 or 3 appraisers and 2 to 10 parts; got {repeats}, {appraisers}, {parts}.", nameof(readings));
        }

        double[] Cell(int part, int appraiser) => [.. Enumerable.Range(0, repeats).Select(k => readings[part, appraiser, k])];
        var range = Enumerable.Range(0, parts).SelectMany(p => Enumerable.Range(0, appraisers).Select(a => Summary.Of(Cell(p, a)).Range)).Average();
        var byAppraiser = Enumerable.Range(0, appraisers).Select(a => Enumerable.Range(0, parts).Average(p => Cell(p, a).Average())).ToArray();
        var byPart = Enumerable.Range(0, parts).Select(p => Enumerable.Range(0, appraisers).Average(a => Cell(p, a).Average())).ToArray();

        // One over d2* for one set of ranges (2, 3, ... wide); common practice.
        var equipment = range * (repeats == 2 ? 0.8862 : 0.5908);
        var spread = (byAppraiser.Max() - byAppraiser.Min()) * (appraisers == 2 ? 0.7071 : 0.5231);
        double[] k3 = [0.7071, 0.5231, 0.4467, 0.4030, 0.3742, 0.3534, 0.3375, 0.3249, 0.3146];
        var part = (byPart.Max() - byPart.Min()) * k3[parts - 2];
        return new(equipment * equipment, Math.Max(0, (spread * spread) - (equipment * equipment / (parts * repeats))), part * part);
    }
}
