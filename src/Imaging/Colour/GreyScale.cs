namespace Pairbench.Imaging.Colour;

/// <summary>
/// Instrumental grade for change in colour (ISO 105-A05): 5 is no difference, 1 the largest. The formulas of the grade and of the mean hue were read in public
/// program texts that cite its clauses; those of dEF are from memory.
/// </summary>
public static class GreyScale
{
    private const double Degree = Math.PI / 180;

    /// <summary>dEF: the difference that the grade is taken from. The first colour is the reference.</summary>
    public static double Difference(Lab reference, Lab specimen)
    {
        double c1 = reference.Chroma, c2 = specimen.Chroma;
        double h1 = Hue(reference), h2 = Hue(specimen);
        var d = specimen - reference;
        var dC = c2 - c1;
        var turn = h2 - h1;
        turn = turn > 180 ? turn - 360 : turn < -180 ? turn + 360 : turn;
        var dH = 2 * Math.Sqrt(c1 * c2) * Math.Sin(turn / 2 * Degree);

        var mean = (c1 + c2) / 2;
        var hue = (h1 + h2) / 2;
        if (Math.Abs(h1 - h2) > 180)
        {
            hue += hue < 180 ? 180 : -180;
        }

        var from = Math.Abs(hue - 280);
        var x = Math.Pow((from <= 180 ? from : 360 - from) / 30, 2);
        var taken = dC * mean * Math.Exp(-x) / 100;
        var chroma = (dC - taken) / (1 + Math.Pow(20 * mean / 1000, 2));
        var turned = (dH - taken) / (1 + Math.Pow(10 * mean / 1000, 2));
        return Math.Sqrt((d.L * d.L) + (chroma * chroma) + (turned * turned));
    }

    /// <summary>The grade as a number, 5 to 1.</summary>
    public static double Grade(double difference) => difference <= 3.4
        ? 5 - (difference / 1.7)
        : Math.Max(1, 5 - Math.Log2(difference / 0.85));

    /// <summary>The step of the scale as people write it, such as <c>4-5</c>. Bounds lie midway between the steps of ISO 105-A02 (from memory).</summary>
    public static string Step(double difference) => difference switch
    {
        < 0.40 => "5",
        < 1.25 => "4-5",
        < 2.10 => "4",
        < 2.95 => "3-4",
        < 4.10 => "3",
        < 5.80 => "2-3",
        < 8.20 => "2",
        < 11.60 => "1-2",
        _ => "1",
    };

    private static double Hue(Lab colour)
    {
        var degrees = Math.Atan2(colour.B, colour.A) / Degree;
        return degrees < 0 ? degrees + 360 : degrees;
    }
}
