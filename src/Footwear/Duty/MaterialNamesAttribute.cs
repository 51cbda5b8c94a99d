using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Duty;

/// <summary>Areas by material of chapter 64, or by a name of the bench for one.</summary>
[AttributeUsage(AttributeTargets.Parameter)]
internal sealed class MaterialNamesAttribute()
    : AllowedNamesAttribute("is no material of chapter 64", "rubber-plastics", "rubber", "plastics", "leather", "composition-leather", "textile", "wood", "cork", "other");
