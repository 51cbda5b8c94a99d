using System.Collections.Immutable;
using Pairbench.Footwear.Duty;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Benchmarks.Duty;

/// <summary>Shoes with random facts, none of them measured; a stated part of the facts is left out as not known.</summary>
internal sealed class RandomShoes(FactRules rules, int seed)
{
    private static readonly ImmutableArray<string> Wearers = ["men", "women", "unisex", "infants"];

    private readonly Random _random = new(seed);

    public Answers Next(double unknown)
    {
        var answers = ImmutableDictionary.CreateBuilder<string, object>(StringComparer.Ordinal);
        foreach (var rule in rules.Facts)
        {
            foreach (var place in rule.From)
            {
                if (!answers.ContainsKey(place) && _random.NextDouble() >= unknown)
                {
                    answers[place] = Answer(place, rule);
                }
            }
        }

        return new Answers(answers.ToImmutable(), ImmutableDictionary<string, Extent>.Empty, [], []);
    }

    private object Answer(string place, FactRule rule) => place switch
    {
        "upper.material" or "outerSole.greatestContact" or "outerSole.countedMaterial" => Materials.Of[_random.Next(4)],
        "upper.fibre" => _random.Next(2) == 0 ? "vegetable" : "non-vegetable",
        "wearer" => Wearers[_random.Next(Wearers.Length)],
        "base" => _random.Next(5) switch { 0 => "wood", 1 => "cork", _ => "other" },
        "valueUsdPerPair" => Number(25),
        "heightCm" or "insoleCm" => Number(32),
        "soleAndHeelCm" => Number(12),
        _ when rule.Rule == "number" => Number(100),
        _ => _random.Next(4) == 0,
    };

    private Extent Number(double most) => Extent.Of(Measured.Exact(Math.Round(_random.NextDouble() * most, 2), ""));
}
