using System.Collections.Immutable;
using System.Text.RegularExpressions;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Marking;

/// <summary>The country of origin as the places state it.</summary>
/// <param name="True">Where the pair was made; null where that is not stated.</param>
/// <param name="UnitedStates">Whether the rules of U.S. customs are asked.</param>
internal sealed partial record OriginMarks(MarkingRules Rules, ImmutableArray<(MarkedPlace Place, string Name)> Places, string? True, bool UnitedStates)
{
    private ImmutableArray<(MarkedPlace Place, string Name, string Country, bool HasWords)> Stated => [.. Places
        .Where(p => !string.IsNullOrWhiteSpace(p.Place.Origin))
        .Select(p => (p.Place, p.Name, Country: Country(p.Place.Origin!), HasWords: Country(p.Place.Origin!).Length < p.Place.Origin!.Trim().Length))];

    public IEnumerable<Finding> Findings()
    {
        if (Stated.Select(s => CountryName.Folded(s.Country)).Distinct(StringComparer.Ordinal).Count() > 1)
        {
            yield return Found("origin-differs", $"The origin differs: {string.Join(", ", Stated.Select(s => $"{s.Name} {s.Place.Origin}"))}.", "Find out where the shoes were made and mark everything with that.", null);
        }

        foreach (var wrong in Stated.Where(s => True is not null && CountryName.Folded(s.Country) != CountryName.Folded(Country(True))))
        {
            yield return Found($"{wrong.Name}-origin-wrong", $"{wrong.Name} says {wrong.Place.Origin}; the pair was made in {True}.", "Mark the country where the shoe was made. A wrong origin is a matter for the customs authority: hold the goods until it is settled.", wrong.Place.Photo);
        }

        if (!UnitedStates)
        {
            yield break;
        }

        foreach (var (place, name, country, hasWords) in Stated)
        {
            if (Abbreviation().IsMatch(country) && !Rules.ShortCountries.Contains(CountryName.Folded(country)))
            {
                yield return Found($"{name}-origin-abbreviated", $"{name} gives the origin as {country}; U.S. customs asks for the English name, and only abbreviations that cannot be misread (19 CFR 134.45).", "Write the English name of the country in full.", place.Photo);
            }

            if (!place.OtherPlaces.IsEmpty && !hasWords)
            {
                yield return Found($"{name}-origin-beside-another-place", $"{name} names {string.Join(", ", place.OtherPlaces)} and gives the origin without words such as 'Made in' (19 CFR 134.46: where another place may mislead).", "Write 'Made in' before the country, close to the other place and in letters of like size.", place.Photo);
            }

            foreach (var lacks in Lacking(place))
            {
                yield return Found($"{name}-origin-not-{lacks}", $"The origin on {name} is not {lacks} (19 CFR 134.41).", "Mark it so that the buyer finds it easily, reads it without strain, and it stays on the shoe.", place.Photo);
            }
        }
    }

    /// <summary>What is still to be looked at on the shoe.</summary>
    public IEnumerable<string> NotJudged() => UnitedStates
        ? Stated.Where(s => MarkingRule.IsShoe(s.Place.Place) && (s.Place.Conspicuous is null || s.Place.Legible is null || s.Place.Permanent is null))
            .Take(1)
            .Select(s => $"Whether the origin on {s.Name} is conspicuous, legible and permanent was not judged.")
        : [];

    public IEnumerable<string> Cautions()
    {
        if (UnitedStates)
        {
            foreach (var stuck in Stated.Where(s => s.Place.Form == MarkForm.Stuck && MarkingRule.IsShoe(s.Place.Place)))
            {
                yield return $"The origin on {stuck.Name} is a stuck label: it must stay on in storage and display until the buyer has the shoe (19 CFR 134.44). Try to rub it off.";
            }

            foreach (var tied in Stated.Where(s => s.Place.Place == MarkPlace.HangTag && Stated.All(o => !MarkingRule.IsShoe(o.Place.Place))))
            {
                yield return $"The origin stands on {tied.Name} alone: a tag must stay on until the buyer has the shoe (19 CFR 134.44).";
            }
        }
    }

    private static IEnumerable<string> Lacking(MarkedPlace place)
    {
        if (place.Conspicuous == false)
        {
            yield return "conspicuous";
        }

        if (place.Legible == false)
        {
            yield return "legible";
        }

        if (place.Permanent == false)
        {
            yield return "permanent";
        }
    }

    private static Finding Found(string id, string words, string correction, string? photo) => new(id, Severity.Major, words) { Component = "marking", Correction = correction, Photo = photo };

    private string Country(string written)
    {
        var text = written.Trim();
        var words = Rules.OriginWords.FirstOrDefault(w => text.StartsWith(w, StringComparison.OrdinalIgnoreCase) && text.Length > w.Length && (text[w.Length] is ' ' or ':'));
        return words is null ? text : text[words.Length..].Trim(' ', '.', ':');
    }

    [GeneratedRegex(@"\A(?!U\.?S\.?A\.?\z)([A-Z]\.?){2,4}\z")]
    private static partial Regex Abbreviation();
}
