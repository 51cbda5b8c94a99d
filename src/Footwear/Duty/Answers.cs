using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Duty;

/// <summary>The known facts of a shoe by their place, such as <c>outerSole.note5Durable</c>: a truth, a word or an <see cref="Extent"/>.</summary>
/// <param name="UpperArea">Shares of the upper; several readings where it is not decided what a coat or a print counts for.</param>
/// <param name="Undecided">Places whose number is known and straddles its threshold: never read as the plain case.</param>
public sealed record Answers(ImmutableDictionary<string, object> ByPlace, ImmutableDictionary<string, Extent> Contact, ImmutableArray<ImmutableDictionary<string, Extent>> UpperArea, ImmutableHashSet<string> Undecided)
{
    private static readonly ImmutableDictionary<string, Extent> Brackets = new Dictionary<string, Extent>
    {
        ["0-3"] = new(null, 0, false, 3, true, "0-3"),
        ["3-6.5"] = new(null, 3, false, 6.5, true, "3-6.5"),
        ["6.5-12"] = new(null, 6.5, false, 12, true, "6.5-12"),
        ["12+"] = new(null, 12, false, double.PositiveInfinity, false, "12+"),
    }.ToImmutableDictionary();

    public object? this[string place] => ByPlace.GetValueOrDefault(place);

    public Answers With(string place, object answer) => this with { ByPlace = ByPlace.SetItem(place, answer) };

    /// <summary>Reads the facts; words that are none of the trade's and values that disagree become faults.</summary>
    public static Answers Of(ShoeFacts facts, Measured? valueUsd, FactRules rules, List<Fault> faults)
    {
        ArgumentNullException.ThrowIfNull(facts);
        ArgumentNullException.ThrowIfNull(rules);
        ArgumentNullException.ThrowIfNull(faults);
        var answers = Stated(facts).ToImmutableDictionary(s => s.Place, s => s.Answer, StringComparer.Ordinal).ToBuilder();
        void Put(string place, object? value)
        {
            if (value is not null)
            {
                answers[place] = value;
            }
        }

        var upper = facts.Upper ?? new UpperFacts();
        var sole = facts.OuterSole ?? new OuterSoleFacts();
        Put("upper.material", Materials.Law(upper.Material));
        Put("outerSole.greatestContact", Materials.Law(sole.GreatestContact));
        Put("outerSole.countedMaterial", Materials.Law(sole.CountedMaterial));
        Put("base", facts.Base ?? (sole.Base is null ? null : sole.Base is "wood" or "cork" ? sole.Base : "other"));
        Put("wearer", facts.Wearer is { } wearer ? Worn.Word(wearer) : null);
        Put("withoutClosures", facts.WithoutClosures ?? (facts.Closure is null ? null : facts.Closure == "none"));
        faults.AddRange(Worn.Faults(facts, rules.Wearing));
        Put("valueUsdPerPair", Value(facts, valueUsd, faults));
        var weights = facts.WeightPct ?? ImmutableDictionary<string, Extent>.Empty;
        var rubber = weights.GetValueOrDefault("rubber-plastics");
        var together = weights.GetValueOrDefault("textile+rubber-plastics");
        Put("weightPct.rubber-plastics", rubber);
        Put("weightPct.textile+rubber-plastics", together ?? (rubber is not null && weights.TryGetValue("textile", out var textile)
            ? new Extent(null, rubber.Low + textile.Low, true, rubber.High + textile.High, true, "")
            : null));
        var contact = Shares("outerSole.groundContactPct", sole.GroundContactPct, faults);
        var area = Shares("upper.externalAreaPct", upper.ExternalAreaPct, faults);
        var areas = Covering.Readings(area, upper, rules.Covering);
        Agree("outerSole.greatestContact", answers.GetValueOrDefault("outerSole.greatestContact"), Greatest.Of(contact), faults);
        Agree("upper.material", answers.GetValueOrDefault("upper.material"), Greatest.Of(areas), faults);
        if (answers.GetValueOrDefault("upper.material") is "leather" && upper.PlasticCoatMm is { } coat && new Atom("", NotOver: rules.Covering.LeatherCoatMostMm).Holds(coat) is not true)
        {
            if (coat.Low > rules.Covering.LeatherCoatMostMm)
            {
                faults.Add(new Fault("facts.upper.material", $"is leather, but its plastic coat is {coat.In("mm")}", FormattableString.Invariant($"give rubber-plastics: over {rules.Covering.LeatherCoatMostMm} mm leather counts as plastics ({rules.Covering.CoatLaw})")));
            }
            else if (!coat.SaysNothing)
            {
                answers.Remove("upper.material");
                areas = area.IsEmpty ? [Covering.Whole("leather"), Covering.Whole("rubber-plastics")] : areas;
            }
        }

        var accessories = Shares("upper.externalAreaWithAccessoriesPct", upper.ExternalAreaWithAccessoriesPct, faults);
        var undecided = FactTests.Run(answers, rules.Tests, Covering.Readings(accessories, upper, rules.Covering), faults);
        return new Answers(answers.ToImmutable(), contact, areas, undecided);
    }

    /// <summary>What the facts state, by its place in the file. Shares by material are no single answer.</summary>
    private static IEnumerable<(string Place, object Answer)> Stated(object facts)
    {
        foreach (var field in Shape.FieldsOf(facts.GetType()))
        {
            var place = Shape.JsonName(field);
            switch (facts.GetType().GetProperty(field.Name!)!.GetValue(facts))
            {
                case (UpperFacts or OuterSoleFacts or BandFacts or CleatFacts) and var part:
                    foreach (var (inner, answer) in Stated(part))
                    {
                        yield return ($"{place}.{inner}", answer);
                    }

                    break;
                case { } answer and not ImmutableDictionary<string, Extent>:
                    yield return (place, answer);
                    break;
                default:
                    break;
            }
        }
    }

    private static void Agree(string place, object? stated, ImmutableArray<string>? possible, List<Fault> faults)
    {
        if (stated is string material && possible is { } may && !may.Contains(material))
        {
            faults.Add(new Fault("facts." + place, $"is {material}, but by the shares it is {string.Join(" or ", may)}", "give one of them, or values that agree"));
        }
    }

    private static ImmutableDictionary<string, Extent> Shares(string place, ImmutableDictionary<string, Extent>? given, List<Fault> faults)
    {
        var shares = ImmutableDictionary.CreateBuilder<string, Extent>(StringComparer.Ordinal);
        foreach (var (name, share) in given ?? ImmutableDictionary<string, Extent>.Empty)
        {
            var material = Materials.Law(name)!;
            if (!shares.TryAdd(material, share))
            {
                faults.Add(new Fault($"facts.{place}.{name}", $"counts as {material}, which stands there already", "give their sum under one name"));
            }

            if (share.Measured is { Value: < 0 or > 100 })
            {
                faults.Add(new Fault($"facts.{place}.{name}", $"is {Display.Of(share.Measured)}", "give a share from 0 to 100"));
            }
        }

        var sum = shares.Values.Sum(s => double.IsFinite(s.Low) ? s.Low : 0);
        if (sum > 101 && shares.Values.All(s => s.Measured is not { Value: < 0 or > 100 }))
        {
            faults.Add(new Fault("facts." + place, string.Create(CultureInfo.InvariantCulture, $"comes to {sum:0.#} %"), "give shares of at most 100 % together"));
        }

        return shares.ToImmutable();
    }

    private static Extent? Value(ShoeFacts facts, Measured? customsValue, List<Fault> faults)
    {
        var bracket = facts.ValueBracketUsd is { } word ? Brackets[word] : null;
        var given = new[] { ("customsValue", customsValue is null ? null : Extent.Of(customsValue)), ("facts.valueUsdPerPair", facts.ValueUsdPerPair), ("facts.valueBracketUsd", bracket) }.Where(g => g.Item2 is not null).ToList();
        for (var i = 1; i < given.Count; i++)
        {
            if (!given[0].Item2!.Meets(given[i].Item2!))
            {
                faults.Add(new Fault(given[i].Item1, $"is {given[i].Item2}, but {given[0].Item1} is {given[0].Item2}", "give one of them, or values that agree"));
            }
        }

        return given.Count == 0 ? null : given[0].Item2;
    }
}
