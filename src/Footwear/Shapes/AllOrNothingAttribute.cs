namespace Pairbench.Footwear.Shapes;

/// <summary>A record that without one of its fields would say something else: where one cannot be used, none is.</summary>
[AttributeUsage(AttributeTargets.Class)]
public sealed class AllOrNothingAttribute : Attribute;
