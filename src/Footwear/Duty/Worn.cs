using System.Collections.Immutable;

namespace Pairbench.Footwear.Duty;

/// <summary>Who wears a shoe, where its American sizes bear on that (additional U.S. note 1(c) and the rulings on sizes for both sexes).</summary>
internal static class Worn
{
    /// <summary>One word for a wearer, or several joined.</summary>
    public const string Pattern = "^" + AnyWord + "((, ?| and | or |/| & )" + AnyWord + ")*$";

    private const string AnyWord = "(men|women|boys|girls|youths|children|infants|unisex|men-youths-boys|other-persons)";

    private const double HalfSize = 0.5;

    /// <summary>Males of any size: those from youths' 11.5 are of the men's lines, smaller ones are not.</summary>
    private const string BoysAndChildren = "boys and children";

    private static readonly ImmutableArray<string> Male = ["men", "boys", "youths", "men and boys", "boys and men", "men-youths-boys"];

    /// <summary>Several words as one that the rules know; wearers that no rule names together are several.</summary>
    public static string Word(string wearer)
    {
        var words = wearer.Split([",", " and ", " or ", "/", "&"], StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        return words.Length == 1 ? words[0]
            : words.All(w => Male.Contains(w)) ? "men and boys"
            : words.All(w => w is "women" or "girls") ? "women"
            : !words.Any(w => w is "children" or "infants") ? "unisex"
            : words.Any(w => Male.Contains(w)) && words.All(w => Male.Contains(w) || w is "children" or "infants") ? BoysAndChildren
            : "several";
    }

    /// <summary>Words for the wearer that remain possible; none where nothing is known of it.</summary>
    public static ImmutableArray<string> Of(Answers answers, WearingRules rules)
    {
        var wearer = answers["wearer"] as string;
        return answers["sizes"] is AmericanSizes sizes
            ? [.. rules.RunsOf(sizes).SelectMany(run => Of(run, wearer == BoysAndChildren ? "boys" : wearer, answers["womensTwin"] as bool?, rules)).Distinct()]
            : wearer switch { null => [], BoysAndChildren => ["boys", "children"], _ => [wearer] };
    }

    /// <summary>The sizes on either side of the size that parts two kinds of wearers; none where all lie on one side, or where sizes part none.</summary>
    public static ImmutableArray<(string Words, AmericanSizes Sizes)> Sides(Answers answers, WearingRules rules)
    {
        if (answers["sizes"] is null && answers["wearer"] is BoysAndChildren && rules.EndsOf(SizeScale.Children) is { } children)
        {
            return Named(new(SizeScale.Children, children.From, rules.YouthsFrom - HalfSize), new(SizeScale.Children, rules.YouthsFrom, children.To));
        }

        if (answers["sizes"] is not AmericanSizes sizes || Of(answers, rules) is { Length: < 2 })
        {
            return [];
        }

        if (sizes.Scale is SizeScale.Men)
        {
            return answers["womensTwin"] is not false || sizes.From > rules.UnisexUpToMens || sizes.To <= rules.UnisexUpToMens
                ? []
                : Named(sizes with { To = rules.UnisexUpToMens }, sizes with { From = rules.UnisexUpToMens + HalfSize });
        }

        var small = rules.RunsOf(sizes).Any(r => r.Scale is SizeScale.Infants || (r.Scale is SizeScale.Children && r.From < rules.YouthsFrom));
        var large = rules.RunsOf(sizes).Any(r => r.Scale is SizeScale.Youths || (r.Scale is SizeScale.Children && r.To >= rules.YouthsFrom));
        return !small || !large
            ? []
            : Named(
                sizes with { To = rules.YouthsFrom - HalfSize, ToScale = SizeScale.Children },
                sizes with { Scale = SizeScale.Children, From = rules.YouthsFrom, ToScale = sizes.ToScale ?? sizes.Scale });
    }

    public static IEnumerable<Fault> Faults(ShoeFacts facts, WearingRules rules)
    {
        if (facts.Sizes is not { } sizes)
        {
            yield break;
        }

        if (sizes.ToScale is { } end && end != sizes.Scale)
        {
            if (end < sizes.Scale || end > SizeScale.Youths)
            {
                yield return new Fault("facts.sizes.toScale", $"goes from {AmericanSizes.Word(sizes.Scale)} to {AmericanSizes.Word(end)} sizes", "a run goes from infants' over children's to youths' sizes; enter others as styles of their own");
            }
            else if (rules.EndsOf(sizes.Scale) is { } first && rules.EndsOf(end) is { } last && !(Holds(first, sizes.From) && Holds(last, sizes.To)))
            {
                yield return new Fault("facts.sizes", $"runs from {sizes}", FormattableString.Invariant($"{AmericanSizes.Word(first.Scale)} sizes run from {first.From} to {first.To}, {AmericanSizes.Word(last.Scale)} from {last.From} to {last.To}"));
            }
        }
        else if (sizes.From > sizes.To)
        {
            yield return new Fault("facts.sizes", FormattableString.Invariant($"runs from {sizes.From} to {sizes.To}"), "give the smallest size first; a run that goes on into the next scale says which, such as \"toScale\": \"youths\"");
        }
        else if (rules.EndsOf(sizes.Scale) is { } ends && !(Holds(ends, sizes.From) && Holds(ends, sizes.To)))
        {
            var others = rules.Scales.Where(s => Holds(s, sizes.From) && Holds(s, sizes.To)).OrderByDescending(s => s.Scale).Select(s => EnumWords.Of(s.Scale)).ToArray();
            var right = others.Length > 0 ? FormattableString.Invariant($"for {sizes.From} to {sizes.To} say {string.Join(" or ", others)}") : "give sizes within these, or the scale that they are of";
            yield return new Fault("facts.sizes", $"are {sizes}", FormattableString.Invariant($"{AmericanSizes.Word(ends.Scale)} sizes run from {ends.From} to {ends.To}; {right}"));
        }

        if (facts.Wearer is { } told && Word(told) is var wearer && (sizes.Scale is SizeScale.Women ? Male.Contains(wearer) : sizes.Scale is SizeScale.Men && wearer is "women" or "girls"))
        {
            yield return new Fault("facts.sizes.scale", $"is {AmericanSizes.Word(sizes.Scale)}, but the wearer is {told}", "give the scale that the wearer's sizes are of");
        }
    }

    private static bool Holds(ScaleEnds ends, double size) => size >= ends.From && size <= ends.To;

    private static ImmutableArray<string> Of(AmericanSizes run, string? wearer, bool? womensTwin, WearingRules rules)
    {
        if (run.Scale is SizeScale.Infants or SizeScale.Children && (wearer is null || Male.Contains(wearer)))
        {
            return Split(run.To < rules.YouthsFrom || run.Scale is SizeScale.Infants, run.From >= rules.YouthsFrom, "children", wearer is null ? ["youths", "girls"] : [wearer]);
        }

        return (run.Scale, wearer) switch
        {
            (SizeScale.Men, null) when womensTwin is false => Split(run.To <= rules.UnisexUpToMens, run.From > rules.UnisexUpToMens, "unisex", "men"),
            (SizeScale.Men, { } male) when womensTwin is false && Male.Contains(male) => Split(run.To <= rules.UnisexUpToMens, run.From > rules.UnisexUpToMens, "unisex", male),
            (SizeScale.Men, null) => ["men", "unisex"],
            (SizeScale.Women, null) => ["women"],
            (_, null) => ["youths", "girls"],
            (_, { } told) => [told],
        };
    }

    private static ImmutableArray<(string Words, AmericanSizes Sizes)> Named(params ImmutableArray<AmericanSizes> sides) => [.. sides.Select(s => (s.ToString(), s))];

    private static ImmutableArray<string> Split(bool below, bool above, string small, params ImmutableArray<string> large) =>
        below ? [small] : above ? large : [small, .. large];
}
