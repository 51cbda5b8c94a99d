using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Oven;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Cost;

/// <summary>The stack and programme that margins of changed materials are worked out with: written here, or those of the review.</summary>
/// <param name="EvidenceOf">The entry it is taken from, as <c>oven/main</c>.</param>
public sealed record OvenSheet(
    [Inline] OvenEvidence Stack,
    [RegularExpression("^oven/[a-z0-9-]+$", ErrorMessage = "name an oven entry of this review, as oven/main")] string? EvidenceOf = null);
