namespace Pairbench.Footwear.Shapes;

/// <summary>The fields of the parameter's record stand in the object itself and not under a name of their own: one record for fields that several kinds of evidence share.</summary>
[AttributeUsage(AttributeTargets.Parameter)]
public sealed class InlineAttribute : Attribute;
