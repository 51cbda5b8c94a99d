using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;

namespace Pairbench.Footwear;

/// <summary>What a review asks of the factory: who owes what and by when, and what the factory answered.</summary>
/// <param name="Language">The language beside English: an id of the glossary, such as <c>vi</c>; English alone where it is not stated.</param>
/// <param name="To">Who receives the sheet.</param>
/// <param name="By">By when, where an item does not say otherwise.</param>
/// <param name="Items">By full address of a finding, or of a figure that lies outside its limit.</param>
public sealed record Corrections(
    string? Language = null,
    string? To = null,
    DateOnly? By = null,
    ImmutableDictionary<string, CorrectionItem>? Items = null)
{
    public static Corrections None { get; } = new();

    /// <summary>What is stated of one item; an empty one where nothing is.</summary>
    public CorrectionItem Of(FullAddress address) => Items?.GetValueOrDefault(address.ToString()) ?? CorrectionItem.Nothing;
}

/// <summary>One item of the sheet.</summary>
/// <param name="By">By when; else that of the sheet.</param>
/// <param name="Owner">Who puts it right.</param>
/// <param name="WhatToDo">In place of what the finding says, or of bringing a figure into its limit.</param>
public sealed record CorrectionItem(DateOnly? By = null, string? Owner = null, string? WhatToDo = null, CorrectionReply? Reply = null)
{
    public static CorrectionItem Nothing { get; } = new();
}

/// <summary>What the factory says of an item.</summary>
public enum ReplyState
{
    Agreed,
    Done,
    Disputed,
}

/// <summary>The answer of the factory to one item.</summary>
public sealed record CorrectionReply(ReplyState State, [MaxLength(2000)] string? Words = null, string? By = null, DateOnly? On = null);
