using Pairbench.Footwear;

namespace Pairbench.Reporting;

/// <summary>What stands below the words of a finding.</summary>
internal static class NoteText
{
    /// <summary>Severity and place, such as <c>major · toe cap · left · lateral</c>.</summary>
    public static string Place(Block.Note note) => string.Join(" · ", new[]
    {
        EnumWords.Of(note.Finding.Severity),
        note.Finding.Component,
        note.Finding.Side is { } side ? EnumWords.Of(side) : null,
        note.Finding.Zone,
        note.Finding.Figure is { } figure ? $"figure {figure.In(note.Address.Entry)}" : null,
        note.Finding.CarriedFrom is { } carried ? $"carried from {carried}" : null,
    }.Where(s => !string.IsNullOrWhiteSpace(s)));
}
