using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Reflection;
using System.Text.Json;
using System.Text.RegularExpressions;
using System.Text.Unicode;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Shapes;

/// <summary>
/// Reads JSON into immutable records and collects every fault on the way, each with its place.
/// The same shape gives the JSON Schema (<see cref="ShapeSchema"/>), so that file and definition cannot drift apart.
/// </summary>
/// <remarks>
/// A record is read through its longest constructor; a parameter with a default or a nullable type is optional.
/// A record struct of doubles only is written as an array, such as a point <c>[x, y]</c>.
/// A <see cref="Measured"/> is a number in the unit of its <see cref="InUnitAttribute"/>, or
/// <c>{ "value", "unit", "standardUncertainty" }</c>, or <c>{ "from": "examination/entry/figure" }</c>; without an uncertainty it is exact, or as sure as its <see cref="ReadToAttribute"/> says.
/// A record that is <see cref="IAgreeing"/> is held against itself once its fields have their shape.
/// A parameter marked <see cref="InlineAttribute"/> is a record whose fields stand in the object itself.
/// Fields that no parameter takes are listed apart: they are kept in the file and not used.
/// What is kept has to be read before it can be mended (<see cref="ReadKept{T}"/>): there a field that cannot be used is read as if it did not stand there. A text that has to be there is empty then;
/// any other field that has to be takes its record along, and a record that is <see cref="AllOrNothingAttribute"/> goes with any of its fields.
/// </remarks>
public sealed class ShapeReader
{
    /// <summary>About what a decimal holds (7.92e28), in digits that a person reads.</summary>
    private const string MostDecimal = "7.9e28";

    private const int MostDepth = 64;

    private readonly IReadOnlyDictionary<string, Measured> _references;
    private readonly ImmutableArray<Fault>.Builder _faults = ImmutableArray.CreateBuilder<Fault>();
    private readonly ImmutableArray<Fault>.Builder _disagreements = ImmutableArray.CreateBuilder<Fault>();
    private readonly ImmutableArray<string>.Builder _unused = ImmutableArray.CreateBuilder<string>();

    private readonly Func<string, string> _causeOf;

    private readonly ISet<string> _taken;

    private readonly IDictionary<string, Measured> _assumed;

    private readonly bool _ofWhatIsKept;

    private ShapeReader(IReadOnlyDictionary<string, Measured> references, Func<string, string> causeOf, ISet<string> taken, IDictionary<string, Measured> assumed, bool ofWhatIsKept = false) =>
        (_references, _causeOf, _taken, _assumed, _ofWhatIsKept) = (references, causeOf, taken, assumed, ofWhatIsKept);

    /// <summary>Reads a whole JSON text with bounded depth, without doubled names, and with texts that are whole characters.</summary>
    /// <exception cref="FaultsException">The text is not JSON.</exception>
    public static JsonElement Parse(ReadOnlyMemory<byte> utf8, string where)
    {
        if (!Utf8.IsValid(utf8.Span))
        {
            throw new FaultsException(new Fault(where, "is not UTF-8", "save it as UTF-8"));
        }

        try
        {
            if (utf8.Span.StartsWith("\uFEFF"u8))
            {
                utf8 = utf8[3..];
            }

            if (LineOfHalfACharacter(utf8.Span) is { } half)
            {
                throw new FaultsException(new Fault(where, $"holds half of a character (line {half})", "write both of its \\u escapes, or remove it"));
            }

            using var document = JsonDocument.Parse(utf8, new JsonDocumentOptions { MaxDepth = MostDepth, AllowDuplicateProperties = false });
            return document.RootElement.Clone();
        }
        catch (JsonException e)
        {
            var place = e.LineNumber is { } line ? $" (line {line + 1}, byte {e.BytePositionInLine + 1})" : "";
            throw new FaultsException(new Fault(where, $"is not readable JSON{place}: {FirstSentence(e.Message)}", $"give one JSON document in UTF-8, nested at most {MostDepth} deep, each name once"));
        }
    }

    /// <summary>Where an escape stands for one half of a surrogate pair alone, which no text can hold; null where none does.</summary>
    private static int? LineOfHalfACharacter(ReadOnlySpan<byte> json)
    {
        var reader = new Utf8JsonReader(json, new JsonReaderOptions { MaxDepth = MostDepth });
        while (reader.Read())
        {
            if (!reader.ValueIsEscaped)
            {
                continue;
            }

            try
            {
                reader.GetString();
            }
            catch (InvalidOperationException)
            {
                return json[..(int)reader.TokenStartIndex].Count((byte)'\n') + 1;
            }
        }

        return null;
    }

    /// <summary>Reads a value of type <typeparamref name="T"/>.</summary>
    /// <param name="where">Place of the element in the whole input; stands before every fault.</param>
    /// <param name="references">Figures that inputs may refer to, by full address.</param>
    /// <param name="unused">Places of fields that were not taken.</param>
    /// <param name="causeOf">Name of the cause of an uncertainty stated at a place; <c>stated:place</c> where absent.</param>
    /// <param name="taken">Takes the places whose references were read.</param>
    /// <param name="assumed">Takes the places of numbers without an uncertainty that got that of <see cref="ReadToAttribute"/>, with it.</param>
    /// <exception cref="FaultsException">The element does not have the shape.</exception>
    public static T Read<T>(JsonElement element, string where, out ImmutableArray<string> unused, IReadOnlyDictionary<string, Measured>? references = null, Func<string, string>? causeOf = null, ISet<string>? taken = null, IDictionary<string, Measured>? assumed = null) =>
        (T)Read(typeof(T), element, where, out unused, references, causeOf, taken, assumed);

    /// <inheritdoc cref="Read{T}"/>
    public static object Read(Type type, JsonElement element, string where, out ImmutableArray<string> unused, IReadOnlyDictionary<string, Measured>? references = null, Func<string, string>? causeOf = null, ISet<string>? taken = null, IDictionary<string, Measured>? assumed = null)
    {
        var reader = new ShapeReader(references ?? ImmutableDictionary<string, Measured>.Empty, causeOf ?? (place => "stated:" + place), taken ?? new HashSet<string>(), assumed ?? new Dictionary<string, Measured>());
        var value = reader.Value(new Shape(type, []), element, where);
        unused = reader._unused.ToImmutable();
        reader._faults.AddRange(reader._disagreements);
        return reader._faults.Count == 0 ? value! : throw new FaultsException(reader._faults);
    }

    /// <summary>Reads of what is kept all that can be used.</summary>
    /// <param name="faults">What is wrong with the rest, and fields that disagree.</param>
    /// <exception cref="FaultsException">Too little can be used for a <typeparamref name="T"/>.</exception>
    internal static T ReadKept<T>(JsonElement element, out ImmutableArray<Fault> faults)
    {
        var reader = new ShapeReader(ImmutableDictionary<string, Measured>.Empty, place => "stated:" + place, new HashSet<string>(), new Dictionary<string, Measured>(), ofWhatIsKept: true);
        var value = reader.Value(new Shape(typeof(T), []), element, "");
        faults = [.. reader._faults, .. reader._disagreements];
        return value is null ? throw new FaultsException(faults) : (T)value;
    }

#pragma warning disable CS8524 // A kind that is left out is an error (CS8509).
    private object? Value(Shape shape, JsonElement e, string where) => shape.Kind switch
#pragma warning restore CS8524
    {
        ShapeKind.Json => e.Clone(),
        ShapeKind.Text => e.ValueKind == JsonValueKind.String ? Text(shape, e.GetString()!, where) : Wrong(where, e, "give a text"),
        ShapeKind.Truth => e.ValueKind is JsonValueKind.True or JsonValueKind.False ? e.GetBoolean() : Wrong(where, e, "give true or false"),
        ShapeKind.Whole or ShapeKind.Number => Number(shape, e, where),
        ShapeKind.Date => e.ValueKind == JsonValueKind.String && Dates.Read(e.GetString()) is { } date ? date : Wrong(where, e, "give a date as 2026-11-25"),
        ShapeKind.Word => Word(shape, e, where),
        ShapeKind.Measured => Input(shape, e, where),
        ShapeKind.Extent => e.ValueKind == JsonValueKind.String ? Amount(shape, e, where) : Input(shape, e, where) is Measured measured ? Extent.Of(measured) : null,
        ShapeKind.List => Items(shape, shape.Inner!, e, where),
        ShapeKind.Named => Named(shape, shape.Inner!, e, where),
        ShapeKind.Numbers => Tuple(shape.Type, e, where),
        ShapeKind.Record => Record(shape.Type, e, where),
    };

    private object? Word(Shape shape, JsonElement e, string where)
    {
        var names = EnumWords.ByWord(shape.Type);
        return e.ValueKind == JsonValueKind.String && names.TryGetValue(e.GetString()!, out var member)
            ? member
            : Wrong(where, e, shape.Find<DescriptionAttribute>() is { } description ? $"give {description.Description}" : $"give one of {string.Join(", ", names.Keys)}");
    }

    private object? Amount(Shape shape, JsonElement e, string where)
    {
        var extent = Extent.Parse(e.GetString()!);
        if (Extent.TurnedRound(extent.Words) is { } turned)
        {
            return Fault(where, $"is the range '{Short(extent.Words)}', its larger end first", $"give {turned}");
        }

        if (extent.SaysNothing && !Extent.SpeaksOfAnAmount(extent.Words))
        {
            return Wrong(where, e, $"give {shape.AmountInWords()}");
        }

        var outside = new[] { extent.Low, extent.High }.Where(double.IsFinite).Select(n => RangeOf(shape)?.Refused(where, n)).FirstOrDefault(f => f is not null);
        return outside is null ? extent : Wrong(where, e, outside.WouldBeRight);
    }

    private object? Text(Shape shape, string text, string where)
    {
        if (shape.Find<RegularExpressionAttribute>() is { } pattern && !Regex.IsMatch(text, pattern.Pattern))
        {
            return Fault(where, $"'{Short(text)}' does not have the right form", pattern.ErrorMessage ?? $"it must match {pattern.Pattern}");
        }

        if (shape.Find<MinLengthAttribute>() is { } least && text.Trim().Length < least.Length)
        {
            return Fault(where, "is empty", "give a text");
        }

        if (shape.Find<AllowedValuesAttribute>() is { } words && !words.Values.Contains(text))
        {
            return Fault(where, $"is '{Short(text)}'", $"give one of {string.Join(", ", words.Values)}");
        }

        return text.Length <= 20_000 ? text : Fault(where, $"is {text.Length} characters long", "give at most 20000");
    }

    private object? Number(Shape shape, JsonElement e, string where)
    {
        if (e.ValueKind != JsonValueKind.Number)
        {
            return Wrong(where, e, "give a number");
        }

        if (!e.TryGetDouble(out var number) || !double.IsFinite(number))
        {
            return Wrong(where, e, "give a finite number");
        }

        if (RangeOf(shape)?.Refused(where, number) is { } refused)
        {
            return Fault(refused);
        }

        if (shape.Type == typeof(double))
        {
            return number;
        }

        if (shape.Type == typeof(decimal))
        {
            return e.TryGetDecimal(out var digits) ? digits : Wrong(where, e, $"give a number from -{MostDecimal} to {MostDecimal}");
        }

        var whole = Math.Abs(number) <= (shape.Type == typeof(int) ? int.MaxValue : 9e15) && number == Math.Floor(number);
        return whole ? Convert.ChangeType(number, shape.Type, CultureInfo.InvariantCulture) : Fault(where, $"is {NumberRange.Text(number)}", "give a whole number");
    }

    private object? Input(Shape shape, JsonElement e, string where)
    {
        var unit = shape.Find<InUnitAttribute>()?.Unit ?? "";
        if (e.ValueKind == JsonValueKind.Number)
        {
            return Number(new Shape(typeof(double), shape.Attributes), e, where) is double number ? ReadTo(shape, Measured.Exact(number, unit), where, null) : null;
        }

        if (e.ValueKind != JsonValueKind.Object)
        {
            return Fault(new Fault(where, $"is {Describe(e)}", $"give {shape.InWords()}") { InFile = """or { "value", "unit", "standardUncertainty" }, or { "from": "examination/entry/figure" }""" });
        }

        if (e.TryGetProperty("from", out var from))
        {
            var address = from.ValueKind == JsonValueKind.String ? from.GetString()! : "";
            if (!_references.TryGetValue(address, out var figure))
            {
                return Fault(NoSuchFigure(where, address));
            }

            _taken.Add(where);
            return InUnit(shape, figure, unit, where);
        }

        var read = (StatedInput?)Record(typeof(StatedInput), e, where);
        if (read is null)
        {
            return null;
        }

        var given = read.Unit.Length == 0 ? unit : read.Unit;
        if (read.StandardUncertainty is not { } u)
        {
            return InUnit(shape, Measured.Exact(read.Value, given), unit, where) is Measured plain ? ReadTo(shape, plain, where, read.Cause) : null;
        }

        var stated = u == 0
            ? Measured.Exact(read.Value, given)
            : Measured.Of(read.Value, given, read.Cause ?? _causeOf(where), u, Evaluation.TypeB, read.DegreesOfFreedom ?? double.PositiveInfinity);
        return InUnit(shape, stated, unit, where);
    }

    /// <summary>A number without an uncertainty, in the unit of its field: exact, unless the field says how surely such a one is known.</summary>
    private Measured ReadTo(Shape shape, Measured plain, string where, string? cause)
    {
        if (plain.Value == 0 || shape.Find<ReadToAttribute>() is not { } readTo)
        {
            return plain;
        }

        _assumed[where] = Measured.Exact(readTo.StandardUncertainty, plain.Unit);
        return Measured.Of(plain.Value, plain.Unit, cause ?? _causeOf(where), readTo.StandardUncertainty);
    }

    internal static Fault NoSuchFigure(string where, string address) =>
        new(where, $"refers to '{Short(address)}', which no other entry gives", "name a figure of this review as examination/entry/figure");

    private object? InUnit(Shape shape, Measured value, string unit, string where)
    {
        var converted = value;
        if (shape.Find<OwnUnitAttribute>() is null && !Units.TryConvert(value, unit, out converted))
        {
            return Fault(where, $"is in '{value.Unit}'", $"give it in '{unit}' or a unit that turns into it");
        }

        return RangeOf(shape)?.Refused(where, converted.Value) is { } refused ? Fault(refused) : converted;
    }

    private object? Items(Shape shape, Shape item, JsonElement e, string where)
    {
        if (e.ValueKind != JsonValueKind.Array)
        {
            return Wrong(where, e, "give a list [ ... ]");
        }

        var length = e.GetArrayLength();
        if (shape.Find<MinLengthAttribute>() is { } least && length < least.Length)
        {
            return Fault(where, $"has {length} {(length == 1 ? "entry" : "entries")}", least.ErrorMessage ?? $"give at least {least.Length}");
        }

        if (shape.Find<MaxLengthAttribute>() is { } most && length > most.Length)
        {
            return Fault(where, $"has {length} entries", $"give at most {most.Length}");
        }

        var values = Array.CreateInstance(item.Type, length);
        var (index, usable) = (0, 0);
        foreach (var element in e.EnumerateArray())
        {
            if (Value(item, element, $"{where}[{index++}]") is { } value)
            {
                values.SetValue(value, usable++);
            }
        }

        if (usable == length)
        {
            return Shape.ToImmutableArray(item.Type, values);
        }

        var rest = Array.CreateInstance(item.Type, usable);
        Array.Copy(values, rest, usable);
        return Shape.ToImmutableArray(item.Type, rest);
    }

    private object? Named(Shape shape, Shape named, JsonElement e, string where)
    {
        if (e.ValueKind != JsonValueKind.Object)
        {
            return Wrong(where, e, "give an object { ... }");
        }

        var values = new List<(string, object)>();
        foreach (var property in e.EnumerateObject())
        {
            if (shape.Find<AllowedNamesAttribute>() is { } names && !names.Names.Contains(property.Name))
            {
                Fault(Join(where, property.Name), names.What, $"give one of {string.Join(", ", names.Names)}");
            }
            else if (property.Value.ValueKind != JsonValueKind.Null && Value(named, property.Value, Join(where, property.Name)) is { } value)
            {
                values.Add((property.Name, value));
            }
        }

        return Shape.ToImmutableDictionary(named.Type, values);
    }

    private object? Tuple(Type type, JsonElement e, string where)
    {
        var parameters = Shape.ConstructorOf(type).GetParameters();
        var names = string.Join(", ", parameters.Select(p => Shape.JsonName(p)));
        if (e.ValueKind != JsonValueKind.Array || e.GetArrayLength() != parameters.Length)
        {
            return Wrong(where, e, $"give [{names}]");
        }

        var numbers = e.EnumerateArray().Select((n, i) => Number(new Shape(typeof(double), []), n, $"{where}[{i}]")).ToArray();
        return numbers.Any(n => n is null) ? null : Shape.ConstructorOf(type).Invoke(numbers);
    }

    private object? Record(Type type, JsonElement e, string where)
    {
        if (e.ValueKind != JsonValueKind.Object)
        {
            return Wrong(where, e, "give an object { ... }");
        }

        var discriminator = "";
        if (Shape.Kinds(type) is { } kinds)
        {
            discriminator = kinds.Field;
            var word = e.TryGetProperty(kinds.Field, out var kind) && kind.ValueKind == JsonValueKind.String ? kind.GetString()! : "";
            if (!kinds.Types.TryGetValue(word, out var derived))
            {
                return Fault(Join(where, kinds.Field), word.Length == 0 ? "is missing" : $"is '{Short(word)}'", $"give one of {string.Join(", ", kinds.Types.Keys)}");
            }

            type = derived;
        }

        var before = _faults.Count;
        var constructor = Shape.ConstructorOf(type);
        var taken = new HashSet<string>(StringComparer.Ordinal) { discriminator };
        var arguments = Arguments(constructor, e, where, taken);
        _unused.AddRange(e.EnumerateObject().Where(p => !taken.Contains(p.Name)).Select(p => Join(where, p.Name)));
        if (_faults.Count > before && !(_ofWhatIsKept && IsUsable(type, constructor, arguments)))
        {
            return null;
        }

        try
        {
            var read = constructor.Invoke(arguments);

            // What lost a field is not held against itself: it rather waits than misleads.
            if (read is IAgreeing fields && _faults.Count == before)
            {
                _disagreements.AddRange(fields.Disagreements(where));
            }

            return read;
        }
        catch (TargetInvocationException x) when (x.InnerException is ArgumentException refusal)
        {
            return Fault(where, FirstSentence(refusal.Message), "see the schema of this entry");
        }
    }

    /// <summary>Whether a record can stand without the fields that it lost.</summary>
    private static bool IsUsable(Type type, ConstructorInfo constructor, object?[] arguments) =>
        type.GetCustomAttribute<AllOrNothingAttribute>() is null && constructor.GetParameters().Zip(arguments).All(p => p.Second is not null || Shape.IsOptional(p.First));

    /// <summary>What a field that cannot be used, or is missing, leaves in its place; null where nothing can stand there.</summary>
    private object? Lost(ParameterInfo parameter) =>
        !_ofWhatIsKept ? null : Shape.IsOptional(parameter) ? Shape.DefaultOf(parameter) : parameter.ParameterType == typeof(string) ? "" : null;

    private object?[] Arguments(ConstructorInfo constructor, JsonElement e, string where, HashSet<string> taken)
    {
        var parameters = constructor.GetParameters();
        var arguments = new object?[parameters.Length];
        for (var i = 0; i < parameters.Length; i++)
        {
            if (Shape.IsInline(parameters[i]))
            {
                var before = _faults.Count;
                var inner = Shape.ConstructorOf(parameters[i].ParameterType);
                var fields = Arguments(inner, e, where, taken);
                arguments[i] = _faults.Count == before ? inner.Invoke(fields) : null;
                continue;
            }

            var name = Shape.JsonName(parameters[i]);
            taken.Add(name);
            var place = Join(where, name);
            if (!e.TryGetProperty(name, out var field) || field.ValueKind == JsonValueKind.Null)
            {
                if (Shape.IsOptional(parameters[i]))
                {
                    arguments[i] = Shape.DefaultOf(parameters[i]);
                }
                else
                {
                    Fault(place, "is missing", $"give {Shape.Describe(parameters[i])}");
                    arguments[i] = Lost(parameters[i]);
                }

                continue;
            }

            arguments[i] = Value(Shape.Of(parameters[i]), field, place) ?? Lost(parameters[i]);
        }

        return arguments;
    }

    private static NumberRange? RangeOf(Shape shape) => shape.Find<RangeAttribute>() is { } range
        ? new NumberRange(Convert.ToDouble(range.Minimum, CultureInfo.InvariantCulture), Convert.ToDouble(range.Maximum, CultureInfo.InvariantCulture), range.MinimumIsExclusive, range.MaximumIsExclusive)
        : null;

    private object? Wrong(string where, JsonElement e, string right) => Fault(where, $"is {Describe(e)}", right);

    private object? Fault(string where, string what, string right) => Fault(new Fault(where, what, right));

    private object? Fault(Fault fault)
    {
        _faults.Add(fault);
        return null;
    }

    private static string Describe(JsonElement e) => e.ValueKind switch
    {
        JsonValueKind.String => $"the text '{Short(e.GetString()!)}'",
        JsonValueKind.Number => $"the number {Short(e.GetRawText())}",
        JsonValueKind.True => "true",
        JsonValueKind.False => "false",
        JsonValueKind.Null => "null",
        JsonValueKind.Array => $"a list of {e.GetArrayLength()}",
        JsonValueKind.Object => "an object",
        _ => "nothing",
    };

    internal static string Join(string where, string name) => where.Length == 0 ? name : $"{where}.{name}";

    private static string Short(string text) => text.Length <= 60 ? text : text[..57] + "...";

    private static string FirstSentence(string message)
    {
        var end = message.IndexOfAny(['\r', '\n']);
        var line = end < 0 ? message : message[..end];
        var stop = line.IndexOf(". ", StringComparison.Ordinal);
        var parameter = line.IndexOf(" (Parameter", StringComparison.Ordinal);
        line = parameter >= 0 ? line[..parameter] : line;
        return (stop >= 0 && stop < line.Length ? line[..stop] : line).TrimEnd('.');
    }

    /// <summary>Without its uncertainty or its unit the number would be another one.</summary>
    [AllOrNothing]
    private sealed record StatedInput(double Value, string Unit = "", [Range(0, 1e300)] double? StandardUncertainty = null, [Range(0.5, 1e15)] double? DegreesOfFreedom = null, string? Cause = null);
}
