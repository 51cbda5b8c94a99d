using System.Collections.Immutable;
using System.Reflection;
using Pairbench.Footwear;

namespace Pairbench.Tests.Architecture;

/// <summary>A list that a record need not be given is empty in it, so that nothing that looks at it has to ask first whether there is one.</summary>
public sealed class OptionalListTests
{
    [Fact]
    public void A_list_that_is_left_out_or_taken_out_is_empty()
    {
        (Type Record, ParameterInfo List)[] optional =
        [
            .. from type in typeof(Review).Assembly.GetTypes()
               from constructor in type.GetConstructors()
               from parameter in constructor.GetParameters()
               where parameter.HasDefaultValue && parameter.ParameterType.IsGenericType && parameter.ParameterType.GetGenericTypeDefinition() == typeof(ImmutableArray<>)
               select (type, parameter),
        ];

        Assert.Equal("", string.Join(", ", optional.Where(o => IsNone(o.Record, o.List)).Select(o => $"{o.Record.Name}.{o.List.Name}")));
        Assert.True(optional.Length > 50, $"{optional.Length} lists were found");
    }

    private static bool IsNone(Type record, ParameterInfo list)
    {
        var constructor = (ConstructorInfo)list.Member;
        var property = record.GetProperty(list.Name!)!;
        var none = Activator.CreateInstance(list.ParameterType);
        var made = constructor.Invoke([.. constructor.GetParameters().Select(p => p.ParameterType.IsValueType ? Activator.CreateInstance(p.ParameterType) : null)]);
        var isNone = none!.Equals(property.GetValue(made));
        property.SetValue(made, none);
        return isNone || none.Equals(property.GetValue(made));
    }
}
