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
        : $"{(lines.All(l => l.RateText == lines[0].RateText) ? $"The line is undecided, what it pays is not: {lines.Length} lines remain, all at {lines[0].RateText}." : $"Undecided: {lines.Length} lines remain.")} {(missing.IsEmpty ? "" : $"Get first: {missing[0].Words}")}".TrimEnd();

    /// <summary>Who has first place in contact with the ground; empty where fewer than two shares are numbers.</summary>
    public static string Contact(Answers answers)
    {
        if (Greatest.Lead(answers.Contact) is not { } lead)
        {
            return "";
        }

        var interval = lead.Lead.CoverageInterval();
        return interval.Lower <= 0 && interval.Upper >= 0
            ? $"Whether {lead.First} or {lead.Second} has the greatest contact is not decided: the lead is {Display.Of(lead.Lead)}."
            : $"{lead.First} has the greatest contact, ahead of {lead.Second} by {Display.Of(lead.Lead)}.";
    }

    public static IEnumerable<string> Of(Answers answers, ImmutableArray<ScheduleLine> lines, DutyEvidence evidence, FactRules rules)
    {
        if (Greatest.Lead(answers.Contact) is { } lead)
        {
            if (answers.Contact[lead.First].Measured is { Value: < 50 } share)
            {
                yield return $"{lead.First} leads with {Display.Of(share)}, which is less than half: the law asks for the greatest, not for half.";
            }
        }

        if (answers["foxingLikeBand.present"] is null && answers["foxingLikeBand.encirclementPct"] is Extent { SaysNothing: false } round && round.Low <= rules.Band.BandAbovePct && round.High >= rules.Band.NoneBelowPct)
        {
            yield return $"A band round {rules.Band.NoneBelowPct} to {rules.Band.BandAbovePct} % of the perimeter is undecided ({rules.Band.Source}): kind of shoe, look and place of the overlap decide.";
        }

        if (evidence.Sampling is { } sampling)
        {
            yield return SamplingPlan.Of(sampling).Words();
        }
        else if (answers.Contact.Values.Any(s => s.Measured is { IsExact: false }))
        {
            yield return "The shares are of the pair that was measured. For production measure several pairs and give their leads under sampling: it says how many pairs must be measured and what lead to design in.";
        }

        if (answers["foxingLikeBand.overlapInch"] is Extent { SaysNothing: false })
        {
            yield return "Where the overlap of a band varies it is measured where it is greatest (HQ 088510).";
        }

        if (answers["upper.printedLines"] is not null)
        {
            yield return $"What is printed or laid on must be visible as its material. {rules.Covering.GapLaw}; between {rules.Covering.GapFilledBelowMm} and {rules.Covering.GapOpenAboveMm} mm both readings stay.";
        }

        if (answers["protectiveActive"] is true && answers["valueUsdPerPair"] is Extent worth && worth.High <= rules.ProtectiveActive.OverUsd)
        {
            yield return $"By its value this is no protective active footwear: {rules.ProtectiveActive.Law}.";
        }

        if (lines.Any(l => !l.Status.Contains("seen", StringComparison.Ordinal)))
        {
            yield return "A rate of these lines was not read in a source.";
        }
    }

    public static IEnumerable<string> Assumptions(DutyEvidence evidence, Measured? value, Answers answers)
    {
        foreach (var (place, words) in answers.ByPlace.Where(a => a.Value is Extent { SaysNothing: true }).OrderBy(a => a.Key, StringComparer.Ordinal).Select(a => (a.Key, ((Extent)a.Value).Words)))
        {
            yield return $"{FactWords.Of(place)}: '{words}' holds no single number or range, and is read as not known.";
        }

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
