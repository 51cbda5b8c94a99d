namespace Pairbench.Footwear;

/// <summary>How far the examination of a review has come.</summary>
/// <param name="Entry">Whose examination begins.</param>
/// <param name="Number">Counted from one.</param>
/// <param name="Of">Entries of the review.</param>
public sealed record EntryProgress(EntryAddress Entry, int Number, int Of);
