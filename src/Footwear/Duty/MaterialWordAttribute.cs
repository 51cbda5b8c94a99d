using System.ComponentModel.DataAnnotations;

namespace Pairbench.Footwear.Duty;

/// <summary>A material of chapter 64, or a name of the bench for one.</summary>
[AttributeUsage(AttributeTargets.Parameter)]
internal sealed class MaterialWordAttribute() : AllowedValuesAttribute("rubber-plastics", "rubber", "plastics", "leather", "composition-leather", "textile", "wood", "cork", "other");
