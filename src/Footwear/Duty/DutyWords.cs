using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>Sentences of the duty examination.</summary>
internal static class DutyWords
{
    public static ImmutableArray<string> Cautions { get; } =
    [
        "This is a worksheet, not advice: a binding ruling of customs or a licensed customs broker decides.",
        "A change made for the sake of duty must be real in the goods: customs measures the goods as imported.",
        "The law asks for the greatest single material, not for more than half as the trade says; with three materials these differ.",
        "Textile on the sole that does not last (additional U.S. note 5) is not counted for the heading, yet has rate lines of its own in the U.S. schedule; the EU and the UK have none.",
    ];

    public static string Sentence(ImmutableArray<ScheduleLine> lines, ImmutableArray<MissingFact> missing) => lines.Length == 1
        ? $"By these facts the line is {lines[0].Code}, {lines[0].RateText}."
        : $"Undecided: {lines.Length} lines remain. {(missing.IsEmpty ? "" : $"Get first: {missing[0].Words}")}";

    public static IEnumerable<string> Of(Answers answers, ImmutableArray<ScheduleLine> lines)
    {
        if (Greatest.Lead(answers.Contact) is { } lead)
        {
            var interval = lead.Lead.CoverageInterval();
            yield return interval.Lower <= 0 && interval.Upper >= 0
                ? $"Whether {lead.First} or {lead.Second} has the greatest contact is not decided: the lead is {Display.Of(lead.Lead)}."
                : $"{lead.First} has the greatest contact, ahead of {lead.Second} by {Display.Of(lead.Lead)}.";
            if (answers.Contact[lead.First].Measured is { Value: < 50 } share)
            {
                yield return $"{lead.First} leads with {Display.Of(share)}, which is less than half: the law asks for the greatest, not for half.";
            }
        }

        if (answers["foxingLikeBand.present"] is null && answers["foxingLikeBand.encirclementPct"] is Extent { Low: <= 60, High: >= 40 })
        {
            yield return "A band round 40 to 60 % of the perimeter is undecided (T.D. 92-108): kind of shoe, look and place of the overlap decide.";
        }

        if (lines.Any(l => !l.Status.Contains("seen", StringComparison.Ordinal)))
        {
            yield return "A rate of these lines was not read in a source.";
        }
    }

    public static IEnumerable<string> Assumptions(DutyEvidence evidence, Measured? value)
    {
        if (value is null)
        {
            yield return "No customs value is given as a number: money is not worked out.";
        }
        else if (evidence.CustomsValue?.Currency is null && evidence.CustomsValue?.Unit is null && evidence.CustomsValue is not null)
        {
            yield return "The customs value is taken in the currency of the schedule.";
        }

        yield return evidence.Market == Market.Us
            ? "The customs value is on FOB basis: international freight and insurance left out, assists included."
            : "The customs value is on CIF basis: freight and insurance to the border included.";
        if (evidence.Assists is null && value is not null)
        {
            yield return "No assists (moulds, lasts, materials given to the factory) are added to the value.";
        }

        if (evidence.Facts.OuterSole?.GroundContactPct is { } shares && shares.Values.Any(s => s.Measured is { IsExact: false }))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"A material counts as behind another when the 95 % interval of their difference lies below zero.");
        }
    }
}
