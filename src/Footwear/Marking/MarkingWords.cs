using System.Collections.Immutable;
using Pairbench.Footwear.Duty;

namespace Pairbench.Footwear.Marking;

/// <summary>What a marking takes for granted and warns of.</summary>
internal static class MarkingWords
{
    public static IEnumerable<string> Assumptions(MarkingEvidence evidence, Surroundings surroundings, ImmutableArray<Market> markets, ImmutableArray<(MarkedPlace Place, string Name)> places)
    {
        if (markets.IsEmpty)
        {
            yield return "No market is stated: only agreement is looked at, no law.";
        }

        if (evidence.Wearer is null && surroundings.Subject.Pair.Wearer is { } wearer && !string.IsNullOrWhiteSpace(wearer))
        {
            yield return WearerWords.Of(wearer) is var read and not Wearer.Unknown && !string.Equals(wearer.Trim(), EnumWords.Of(read), StringComparison.OrdinalIgnoreCase)
                ? $"Made for {wearer}, as the pair says: taken as {EnumWords.Of(read)}."
                : $"Made for {wearer}, as the pair says.";
        }

        if (places.Any(p => p.Place.Sizes?.ContainsKey("cm") == true))
        {
            yield return "A size in cm is taken as the length of the foot; some labels mean the last.";
        }

        if (evidence.Chart.IsEmpty && places.Any(p => p.Place.Sizes is { Count: > 1 }))
        {
            yield return "The style has no size chart here: systems are held against each other by formula, and a chart of the style would go before that.";
        }
    }

    public static IEnumerable<string> Cautions(ImmutableArray<Market> markets, ImmutableArray<CompositionStatement> statements, Wearer wearer, MarkingRules rules, OriginMarks origin)
    {
        if (!markets.IsEmpty)
        {
            yield return "This is a worksheet, not advice: the customs authority, the market surveillance authority or a binding ruling decides, and a licensed customs broker or counsel should see the labels. Other rules may ask for more.";
        }

        if (markets.Contains(Market.Us))
        {
            yield return $"Rulings on footwear: {string.Join("; ", rules.OriginRulings.Select(r => $"{r.Id}: {r.Says}"))}.";
        }

        foreach (var words in origin.Cautions())
        {
            yield return words;
        }

        if (statements.Any(s => s.Part.Part == StatedPart.OuterSole))
        {
            yield return "The outer sole is stated by volume. A share of ground contact is something else: a thin textile sheet can hold the ground and make little of the volume.";
        }

        if (statements.Any(s => s.Part.Part == StatedPart.Upper))
        {
            yield return "The upper is stated without accessories and reinforcements; for customs duty they are left out for the heading and put back for other tests.";
        }

        if (wearer == Wearer.Children)
        {
            yield return "Children's shoes have further rules on substances, small parts and drawstrings: an accredited laboratory tests them.";
        }
    }
}
