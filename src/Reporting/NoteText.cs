using Pairbench.Footwear;

namespace Pairbench.Reporting;

/// <summary>What stands below the words of a finding.</summary>
internal static class NoteText
{
    /// <summary>Severity and place, such as <c>major · toe cap · left · lateral</c>.</summary>
    public static string Place(Finding finding) => string.Join(" · ", new[]
    {
        EnumWords.Of(finding.Severity),
        finding.Component,
        finding.Side is { } side ? EnumWords.Of(side) : null,
        finding.Zone,
        finding.Figure is { } figure ? $"figure {figure}" : null,
        finding.CarriedFrom is { } carried ? $"carried from {carried}" : null,
    }.Where(s => !string.IsNullOrWhiteSpace(s)));
}
