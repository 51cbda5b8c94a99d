using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Duty;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Cost;

/// <summary>The facts that the duty of the sheet and of its changes is worked out from: a duty worksheet written here, or that of the review.</summary>
/// <param name="EvidenceOf">The entry it is taken from, as <c>duty/main</c>.</param>
public sealed record DutySheet(
    [Inline] DutyEvidence Worksheet,
    [RegularExpression("^duty/[a-z0-9-]+$", ErrorMessage = "name a duty worksheet of this review, as duty/main")] string? EvidenceOf = null);
