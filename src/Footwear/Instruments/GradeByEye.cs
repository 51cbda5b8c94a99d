using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Instruments;

/// <summary>A grade given by eye: a step in an order, as sure as those who looked make it.</summary>
public static class GradeByEye
{
    /// <summary>One of so many would be a step higher, and one a step lower: half a step as a standard uncertainty (common practice, no source).</summary>
    private const int OneOf = 8;

    /// <summary>More people than these make a grade no surer: they share the light, the scale and what they were taught (common practice, no source).</summary>
    private const int MostGraders = 4;

    private const int Draws = 1000;

    /// <summary>How many people gave a grade, as far as names tell: what has no name may be the same person's as all else.</summary>
    public static int Graders(IEnumerable<string?> names) =>
        Math.Max(1, names.Select(n => n?.Trim() ?? "").Where(n => n.Length > 0).Distinct(StringComparer.OrdinalIgnoreCase).Count());

    /// <summary>The people of one text, divided by <c>and</c>, <c>&amp;</c> or a semicolon. A comma divides nobody: it stands within a name too.</summary>
    public static ImmutableArray<string> Named(string? names) =>
        [.. (names ?? "").Split([" and ", "&", ";"], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)];

    /// <summary>What is taken for granted of a grade that all gave alike, after the name of what was graded; without a full stop.</summary>
    public static string Assumption(int graders) => graders < 2
        ? "one person's grade is taken to be right to half a step as a standard uncertainty: one of eight would be a step higher, one a step lower (common practice, no source)"
        : string.Create(CultureInfo.InvariantCulture, $"{graders} people gave one grade, each by themselves right to half a step as a standard uncertainty{(graders > MostGraders ? $"; more than {MostGraders} make it no surer" : "")}: one chance in {Rest(graders) + 2} that it is a step higher, and one that it is a step lower (common practice, no source)");

    /// <summary>The middle grade, the lower of two. Where all agree, with draws from its own step and those beside it; where they differ, with each grade as often as it was given.</summary>
    /// <param name="given">At least one, in any order.</param>
    /// <param name="graders">People who gave them, from 1.</param>
    /// <param name="from">Lower end of the grades.</param>
    /// <param name="to">Upper end of the grades; beyond an end there is no step.</param>
    /// <param name="own">What tells its causes from those of other grades, such as <c>main/left..right</c>.</param>
    public static Measured Of(ImmutableArray<double> given, int graders, double from, double to, double step, string unit, string own)
    {
        var grades = given.Sort();
        var middle = grades[(grades.Length - 1) / 2];
        if (grades[0] != grades[^1])
        {
            return Measured
                .Of(middle, unit, $"graders:{own}", Summary.Of(grades.AsSpan()).StandardDeviation, Evaluation.TypeA, grades.Length - 1)
                .WithSamples(grades.SelectMany(g => Enumerable.Repeat(g, (100 / grades.Length) + 1)));
        }

        // People who judge by themselves, one of eight a step off either way, agree on the step beside the true one far more seldom than on the true one.
        var rest = Rest(graders);
        var copies = Math.Max(1, Draws / (rest + 2));
        double[] draws = [.. Enumerable.Repeat(Math.Max(from, middle - step), copies), .. Enumerable.Repeat(middle, copies * rest), .. Enumerable.Repeat(Math.Min(to, middle + step), copies)];
        return Measured.Of(middle, unit, $"{(graders < 2 ? "grader" : "graders")}:{own}", Summary.Of(draws).StandardDeviation).WithSamples(draws);
    }

    /// <summary>How often the step that all named is the true one, for each time that one beside it is.</summary>
    private static int Rest(int graders) => (int)Math.Pow(OneOf - 2, Math.Clamp(graders, 1, MostGraders));
}
