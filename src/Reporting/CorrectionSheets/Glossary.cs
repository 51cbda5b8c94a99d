using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Reporting.CorrectionSheets;

/// <summary>Whether a translation was looked up.</summary>
public enum TranslationStatus
{
    Checked,
    Memory,
}

public sealed record Translation([MinLength(1)] string Text, TranslationStatus Status = TranslationStatus.Memory);

/// <param name="Id">Such as <c>vi</c>.</param>
/// <param name="Name">In the language itself.</param>
/// <param name="English">In English.</param>
public sealed record GlossaryLanguage([RegularExpression(Footwear.Id.Pattern)] string Id, string Name, string English);

/// <param name="En">In English.</param>
/// <param name="Translations">By id of a language.</param>
public sealed record GlossaryTerm([RegularExpression(Footwear.Id.Pattern)] string Id, string En, ImmutableDictionary<string, Translation> Translations);

/// <summary>The fixed words of a correction sheet in the languages of the factories, as data of the catalogue.</summary>
public sealed record Glossary(string Edition, string Source, ImmutableArray<GlossaryLanguage> Languages, ImmutableArray<GlossaryTerm> Terms)
{
    public const string File = "glossary/correction-sheet.json";

    private readonly ImmutableDictionary<string, GlossaryTerm> _byId = Terms.ToImmutableDictionary(t => t.Id, StringComparer.Ordinal);

    private readonly ImmutableDictionary<string, GlossaryTerm> _byEnglish = Terms.ToImmutableDictionary(t => t.En.ToLowerInvariant(), StringComparer.Ordinal);

    /// <exception cref="FaultsException">There is no such language.</exception>
    public GlossaryLanguage Language(string id) => Languages.FirstOrDefault(l => l.Id == id)
        ?? throw new FaultsException(new Fault("language", $"'{id}' is not in the glossary", $"use one of {string.Join(", ", Languages.Select(l => l.Id))}"));

    /// <summary>The English word.</summary>
    /// <exception cref="KeyNotFoundException">The glossary does not have the term.</exception>
    public string English(string id) => _byId[id].En;

    /// <summary>The word in a language; null where it has none, or where no language is stated.</summary>
    public string? In(string id, GlossaryLanguage? language) =>
        language is not null && _byId[id].Translations.TryGetValue(language.Id, out var translation) ? translation.Text : null;

    /// <summary>English with the other language beside it.</summary>
    public string Both(string id, GlossaryLanguage? language) => Beside(_byId[id], language);

    /// <summary>Words that somebody typed: translated where the glossary has them, else as they were written.</summary>
    public string Typed(string words, GlossaryLanguage? language) =>
        _byEnglish.TryGetValue(words.Trim().ToLowerInvariant(), out var term) ? Beside(term, language) : words;

    /// <summary>What is to be done about a line: as somebody wrote it, else that its figure be brought into its limit, in both languages.</summary>
    public string WhatToDo(CorrectionLine line, GlossaryLanguage? language)
    {
        ArgumentNullException.ThrowIfNull(line);
        return line is { WhatToDo.Length: 0, Limit.Length: > 0 }
            ? Both("bring-it-to", language).Replace("{limit}", line.Limit, StringComparison.Ordinal).Replace("{measured}", line.Measured, StringComparison.Ordinal)
            : line.WhatToDo;
    }

    public string Of(Severity severity, GlossaryLanguage? language) => Both(EnumWords.Of(severity), language);

    public string Of(ReplyState state, GlossaryLanguage? language) => Both(EnumWords.Of(state), language);

    /// <summary>Reads back what a factory wrote, in English or any language of the glossary.</summary>
    public ReplyState? State(string words)
    {
        var written = words.Trim();
        foreach (var state in Enum.GetValues<ReplyState>())
        {
            var term = _byId[EnumWords.Of(state)];
            var known = term.Translations.Values.Select(t => t.Text).Prepend(term.En).ToImmutableArray();
            if (known.Concat(Languages.Select(l => Beside(term, l))).Any(k => k.Equals(written, StringComparison.OrdinalIgnoreCase)))
            {
                return state;
            }
        }

        return null;
    }

    /// <summary>Whether every term has been checked in a language.</summary>
    public bool IsChecked(GlossaryLanguage language)
    {
        ArgumentNullException.ThrowIfNull(language);
        return Terms.All(t => t.Translations.TryGetValue(language.Id, out var translation) && translation.Status == TranslationStatus.Checked);
    }

    private static string Beside(GlossaryTerm term, GlossaryLanguage? language) =>
        language is not null && term.Translations.TryGetValue(language.Id, out var translation) ? $"{term.En} / {translation.Text}" : term.En;
}
