using System.Collections.Immutable;

namespace Pairbench.Footwear.Duty;

/// <summary>Who wears a shoe, where its American sizes bear on that (additional U.S. note 1(c) and the rulings on sizes for both sexes).</summary>
internal static class Worn
{
    private static readonly ImmutableArray<string> Male = ["men", "boys", "youths", "men and boys", "boys and men", "men-youths-boys"];

    private const double HalfSize = 0.5;

    /// <summary>Words for the wearer that remain possible; none where nothing is known of it.</summary>
    public static ImmutableArray<string> Of(Answers answers, WearingRules rules)
    {
        var wearer = answers["wearer"] as string;
        if (answers["sizes"] is not AmericanSizes sizes)
        {
            return wearer is null ? [] : [wearer];
        }

        if (sizes.Scale is SizeScale.Infants or SizeScale.Children && (wearer is null || Male.Contains(wearer)))
        {
            return Split(sizes.To < rules.YouthsFrom || sizes.Scale is SizeScale.Infants, sizes.From >= rules.YouthsFrom, "children", wearer is null ? ["youths", "girls"] : [wearer]);
        }

        return (sizes.Scale, wearer) switch
        {
            (SizeScale.Men, null) when answers["womensTwin"] is false => Split(sizes.To <= rules.UnisexUpToMens, sizes.From > rules.UnisexUpToMens, "unisex", "men"),
            (SizeScale.Men, { } male) when answers["womensTwin"] is false && Male.Contains(male) => Split(sizes.To <= rules.UnisexUpToMens, sizes.From > rules.UnisexUpToMens, "unisex", male),
            (SizeScale.Men, null) => ["men", "unisex"],
            (SizeScale.Women, null) => ["women"],
            (_, null) => [],
            (_, { } told) => [told],
        };
    }

    /// <summary>The sizes on either side of the size that parts two kinds of wearers; none where all lie on one side.</summary>
    public static ImmutableArray<(string Words, AmericanSizes Sizes)> Sides(Answers answers, WearingRules rules)
    {
        if (answers["sizes"] is not AmericanSizes sizes || Of(answers, rules) is { Length: < 2 } || (sizes.Scale is SizeScale.Men && answers["womensTwin"] is not false))
        {
            return [];
        }

        var (below, above) = sizes.Scale is SizeScale.Men
            ? (rules.UnisexUpToMens, rules.UnisexUpToMens + HalfSize)
            : (rules.YouthsFrom - HalfSize, rules.YouthsFrom);
        return [
            (FormattableString.Invariant($"sizes {sizes.From} to {below}"), sizes with { To = below }),
            (FormattableString.Invariant($"sizes {above} to {sizes.To}"), sizes with { From = above })];
    }

    public static IEnumerable<Fault> Faults(ShoeFacts facts)
    {
        if (facts.Sizes is not { } sizes)
        {
            yield break;
        }

        if (sizes.From > sizes.To)
        {
            yield return new Fault("facts.sizes", FormattableString.Invariant($"runs from {sizes.From} to {sizes.To}"), "give the smallest size first");
        }

        if (facts.Wearer is { } wearer && (sizes.Scale is SizeScale.Women ? Male.Contains(wearer) : sizes.Scale is SizeScale.Men && wearer is "women" or "girls"))
        {
            yield return new Fault("facts.sizes.scale", $"is of {sizes.Scale.ToString().ToLowerInvariant()}, but the wearer is {wearer}", "give the scale that the wearer's sizes are of");
        }
    }

    private static ImmutableArray<string> Split(bool below, bool above, string small, params ImmutableArray<string> large) =>
        below ? [small] : above ? large : [small, .. large];
}
