using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Instruments;

namespace Pairbench.Footwear.Readings;

/// <summary>Grades given by eye: steps in order, not numbers to average.</summary>
internal static class GradedReading
{
    /// <param name="by">Who gave the grades; several are divided as <see cref="GradeByEye.Named"/> says.</param>
    /// <param name="own">Name of the item among those of all entries.</param>
    public static ItemValue Of(ReadingItem item, GradeSteps steps, string? by, string own, string where)
    {
        ImmutableArray<Fault> faults = [.. Faults(item, steps, where)];
        if (!faults.IsEmpty)
        {
            return new(null, faults, [], []);
        }

        ImmutableArray<double> grades = [.. item.Values.Select(v => (double)v)];
        var graders = Math.Min(grades.Length, GradeByEye.Graders(GradeByEye.Named(by)));
        var areAlike = grades.Distinct().Count() == 1;
        return new(
            GradeByEye.Of(grades, graders, steps.From, steps.To, steps.Step, item.Unit, own),
            [],
            [
                $"{item.Id}: grades are steps in order; the figure is the middle one given, the lower of two, and no average.",
                .. areAlike ? [$"{item.Id}: {GradeByEye.Assumption(graders)}."] : ImmutableArray<string>.Empty,
            ],
            [.. Cautions(item, graders, areAlike)]);
    }

    private static IEnumerable<Fault> Faults(ReadingItem item, GradeSteps steps, string where)
    {
        if (steps.From >= steps.To)
        {
            return [new Fault(where + ".grades", FormattableString.Invariant($"go from {steps.From:0.##} to {steps.To:0.##}"), "give the lower end first, as from, and a higher one as to")];
        }

        return item.Values.Select((v, i) => (Value: (double)v, Index: i)).Where(v => !steps.Has(v.Value)).Select(v => new Fault(
            $"{where}.values[{v.Index}]",
            FormattableString.Invariant($"{v.Value:0.####} is no step of the grades"),
            FormattableString.Invariant($"give a grade from {steps.From:0.##} to {steps.To:0.##} in steps of {steps.Step:0.##}")));
    }

    private static IEnumerable<string> Cautions(ReadingItem item, int graders, bool areAlike)
    {
        if (item.Illuminant is null)
        {
            yield return $"{item.Id}: the light of the grade is not stated: two materials may match in one light and not in another.";
        }

        if (areAlike && graders == 1)
        {
            yield return item.Values.Length == 1
                ? $"{item.Id}: one grader gave the grade; have a second one look."
                : string.Create(CultureInfo.InvariantCulture, $"{item.Id}: {item.Values.Length} grades, and names of no two who gave them: they may be one person's. Name each grader, divided by 'and', or have a second one look.");
        }
    }
}
