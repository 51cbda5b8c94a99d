using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Shapes;

/// <summary>What a shape is, as reader, schema and words tell shapes apart: all of them go through this list, so that none knows a kind that another does not.</summary>
internal enum ShapeKind
{
    /// <summary>Any JSON, kept as it stands.</summary>
    Json,
    Text,
    Truth,
    Whole,
    Number,
    Date,

    /// <summary>The word of a member of an enum.</summary>
    Word,

    /// <summary>A number with its unit and uncertainty, or a reference to one.</summary>
    Measured,

    /// <summary>The same, or an amount in words.</summary>
    Extent,
    List,

    /// <summary>Values under names that are not fields.</summary>
    Named,

    /// <summary>A list of so many numbers, such as a point.</summary>
    Numbers,
    Record,
}

/// <summary>A type with the attributes of the parameter that takes it: what the reader and the schema know of a field.</summary>
internal sealed record Shape(Type Type, IEnumerable<Attribute> Attributes)
{
    public static Shape Of(ParameterInfo parameter) =>
        new(Nullable.GetUnderlyingType(parameter.ParameterType) ?? parameter.ParameterType, parameter.GetCustomAttributes());

    public ShapeKind Kind =>
        Type == typeof(JsonElement) ? ShapeKind.Json
        : Type == typeof(string) ? ShapeKind.Text
        : Type == typeof(bool) ? ShapeKind.Truth
        : Type == typeof(int) || Type == typeof(long) ? ShapeKind.Whole
        : Type == typeof(double) || Type == typeof(decimal) ? ShapeKind.Number
        : Type == typeof(DateOnly) ? ShapeKind.Date
        : Type.IsEnum ? ShapeKind.Word
        : Type == typeof(Measured) ? ShapeKind.Measured
        : Type == typeof(Extent) ? ShapeKind.Extent
        : ElementOfArray(Type) is not null ? ShapeKind.List
        : ValueOfDictionary(Type) is not null ? ShapeKind.Named
        : IsNumberTuple(Type) ? ShapeKind.Numbers
        : ShapeKind.Record;

    /// <summary>The items of a list, or the values under names: what guards a number or text of theirs stands at the field.</summary>
    public Shape? Inner => Kind switch
    {
        ShapeKind.List => new Shape(ElementOfArray(Type)!, Attributes.Where(a => a is InUnitAttribute or RangeAttribute or RegularExpressionAttribute)),
        ShapeKind.Named => new Shape(ValueOfDictionary(Type)!, Attributes.Where(a => a is InUnitAttribute or RangeAttribute)),
        _ => null,
    };

    public T? Find<T>()
        where T : Attribute => Attributes.OfType<T>().FirstOrDefault();

    /// <summary>The field of a record by its name in files; of a record of several kinds, that of the first that has it. Null where this is no record, or has none.</summary>
    public ParameterInfo? FieldNamed(string name) => Kind != ShapeKind.Record ? null
        : (Kinds(Type) is { } kinds ? kinds.Types.Values : [Type]).SelectMany(FieldsOf).FirstOrDefault(p => JsonName(p) == name);

    /// <summary>The fields of a record, those of records that stand in it among them.</summary>
    public static IEnumerable<ParameterInfo> FieldsOf(Type record) => ConstructorOf(record).GetParameters().SelectMany(p => IsInline(p) ? FieldsOf(p.ParameterType) : [p]);

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

#pragma warning disable CS8524 // A kind that is left out is an error (CS8509).
        return shape.Kind switch
#pragma warning restore CS8524
        {
            ShapeKind.Json => "any JSON",
            ShapeKind.Text => "a text",
            ShapeKind.Truth => "true or false",
            ShapeKind.Whole or ShapeKind.Number => "a number",
            ShapeKind.Date => "a date as 2026-11-25",
            ShapeKind.Word => $"one of {string.Join(", ", EnumWords.ByWord(shape.Type).Keys)}",
            ShapeKind.Measured => shape.InWords(),
            ShapeKind.Extent => shape.AmountInWords(),
            ShapeKind.List => "a list [ ... ]",
            ShapeKind.Numbers => $"[{string.Join(", ", ConstructorOf(shape.Type).GetParameters().Select(JsonName))}]",
            ShapeKind.Named or ShapeKind.Record => "an object { ... }",
        };
    }

    /// <summary>What a number of this shape is asked for as: "a number (°C)".</summary>
    public string InWords() => Find<InUnitAttribute>() is { Unit.Length: > 0 } given ? $"a number ({Units.Shown(given.Unit)})" : "a number";

    /// <summary>What an amount of this shape is asked for as.</summary>
    public string AmountInWords() => $"{InWords()}, or a range in words such as >50, <=0.25, 40-60 or over 50";
}
