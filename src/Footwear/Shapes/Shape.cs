using System.Collections.Immutable;
using System.ComponentModel;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Shapes;

/// <summary>A type with the attributes of the parameter that takes it: what the reader and the schema know of a field.</summary>
internal sealed record Shape(Type Type, IEnumerable<Attribute> Attributes)
{
    public static Shape Of(ParameterInfo parameter) =>
        new(Nullable.GetUnderlyingType(parameter.ParameterType) ?? parameter.ParameterType, parameter.GetCustomAttributes());

    public T? Find<T>()
        where T : Attribute => Attributes.OfType<T>().FirstOrDefault();

    public static string JsonName(ParameterInfo parameter) =>
        parameter.GetCustomAttribute<JsonPropertyNameAttribute>()?.Name ?? JsonNamingPolicy.CamelCase.ConvertName(parameter.Name!);

    public static ConstructorInfo ConstructorOf(Type type) =>
        type.GetConstructors().Where(c => c.GetParameters().Length > 0).MaxBy(c => c.GetParameters().Length)
        ?? type.GetConstructor(Type.EmptyTypes)
        ?? throw new InvalidOperationException($"{type} has no public constructor to read it through.");

    public static bool IsInline(ParameterInfo parameter) => parameter.GetCustomAttribute<InlineAttribute>() is not null;

    public static bool IsOptional(ParameterInfo parameter) =>
        parameter.HasDefaultValue
        || Nullable.GetUnderlyingType(parameter.ParameterType) is not null
        || (!parameter.ParameterType.IsValueType && new NullabilityInfoContext().Create(parameter).WriteState == NullabilityState.Nullable);

    public static object? DefaultOf(ParameterInfo parameter)
    {
        if (ElementOfArray(parameter.ParameterType) is { } item)
        {
            return ToImmutableArray(item, Array.CreateInstance(item, 0));
        }

        if (parameter is { HasDefaultValue: true, DefaultValue: { } value })
        {
            var type = Nullable.GetUnderlyingType(parameter.ParameterType) ?? parameter.ParameterType;
            return type.IsEnum ? Enum.ToObject(type, value) : value;
        }

        return parameter.ParameterType.IsValueType && Nullable.GetUnderlyingType(parameter.ParameterType) is null
            ? Activator.CreateInstance(parameter.ParameterType)
            : null;
    }

    public static Type? ElementOfArray(Type type) =>
        type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ImmutableArray<>) ? type.GetGenericArguments()[0] : null;

    public static Type? ValueOfDictionary(Type type) =>
        type.IsGenericType && type.GetGenericTypeDefinition() == typeof(ImmutableDictionary<,>) ? type.GetGenericArguments()[1] : null;

    public static bool IsNumberTuple(Type type) =>
        type is { IsValueType: true, IsPrimitive: false, IsEnum: false }
        && ConstructorOf(type).GetParameters() is { Length: > 1 } parameters
        && parameters.All(p => p.ParameterType == typeof(double));

    public static object ToImmutableArray(Type item, Array values) =>
        typeof(ImmutableArray).GetMethods()
            .Single(m => m.Name == nameof(ImmutableArray.Create) && m.GetParameters() is [{ ParameterType.IsArray: true }])
            .MakeGenericMethod(item)
            .Invoke(null, [values])!;

    public static object ToImmutableDictionary(Type value, IEnumerable<(string Name, object Value)> entries)
    {
        var dictionary = (System.Collections.IDictionary)Activator.CreateInstance(typeof(Dictionary<,>).MakeGenericType(typeof(string), value))!;
        foreach (var (name, entry) in entries)
        {
            dictionary.Add(name, entry);
        }

        return typeof(ImmutableDictionary).GetMethods()
            .Single(m => m.Name == nameof(ImmutableDictionary.CreateRange) && m.GetParameters() is [{ ParameterType.Name: "IEnumerable`1" }])
            .MakeGenericMethod(typeof(string), value)
            .Invoke(null, [dictionary])!;
    }

    public static (string Field, ImmutableSortedDictionary<string, Type> Types)? Kinds(Type type) =>
        type.GetCustomAttribute<JsonPolymorphicAttribute>(inherit: false) is { } polymorphic
            ? (polymorphic.TypeDiscriminatorPropertyName ?? "kind",
               type.GetCustomAttributes<JsonDerivedTypeAttribute>(inherit: false)
                   .ToImmutableSortedDictionary(d => (string)d.TypeDiscriminator!, d => d.DerivedType, StringComparer.Ordinal))
            : null;

    public static string Describe(ParameterInfo parameter)
    {
        var shape = Of(parameter);
        if (shape.Find<DescriptionAttribute>() is { } description)
        {
            return description.Description;
        }

        var type = shape.Type;
        return type switch
        {
            _ when type == typeof(string) => "a text",
            _ when type == typeof(bool) => "true or false",
            _ when type == typeof(Measured) => shape.InWords(),
            _ when type == typeof(DateOnly) => "a date as 2026-11-25",
            { IsEnum: true } => $"one of {string.Join(", ", EnumWords.ByWord(type).Keys)}",
            { IsPrimitive: true } => "a number",
            _ when ElementOfArray(type) is not null => "a list [ ... ]",
            _ when IsNumberTuple(type) => $"[{string.Join(", ", ConstructorOf(type).GetParameters().Select(JsonName))}]",
            _ => "an object { ... }",
        };
    }

    /// <summary>What a number of this shape is asked for as: "a number (°C)".</summary>
    public string InWords() => Find<InUnitAttribute>() is { Unit.Length: > 0 } given ? $"a number ({Units.Shown(given.Unit)})" : "a number";
}
