using System.Collections.Concurrent;
using System.Collections.Frozen;
using System.Collections.Immutable;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Pairbench.Footwear;

/// <summary>The one word of each member of an enum: its stated name, else kebab case. Files are written and read with it, and people read it.</summary>
public static class EnumWords
{
    private static readonly ConcurrentDictionary<Type, ImmutableSortedDictionary<string, object>> Members = new();

    /// <exception cref="ArgumentOutOfRangeException">It is no member of its enum.</exception>
    public static string Of<TEnum>(TEnum member)
        where TEnum : struct, Enum =>
        Table<TEnum>.Words.TryGetValue(member, out var word) ? word : throw new ArgumentOutOfRangeException(nameof(member), member, $"is no member of {typeof(TEnum)}");

    /// <summary>Of every member, in the order of their values.</summary>
    public static ImmutableArray<string> All<TEnum>()
        where TEnum : struct, Enum => [.. Enum.GetValues<TEnum>().Select(Of)];

    /// <summary>Null where no member has the word.</summary>
    public static TEnum? Read<TEnum>(string? word)
        where TEnum : struct, Enum => word is not null && ByWord(typeof(TEnum)).TryGetValue(word, out var member) ? (TEnum)member : null;

    /// <summary>The members of an enum under their words.</summary>
    internal static ImmutableSortedDictionary<string, object> ByWord(Type type) => Members.GetOrAdd(type, static t =>
        t.GetFields(BindingFlags.Public | BindingFlags.Static).ToImmutableSortedDictionary(WordOf, f => f.GetValue(null)!, StringComparer.Ordinal));

    private static string WordOf(FieldInfo field) =>
        field.GetCustomAttribute<JsonStringEnumMemberNameAttribute>()?.Name ?? JsonNamingPolicy.KebabCaseLower.ConvertName(field.Name);

    private static class Table<TEnum>
        where TEnum : struct, Enum
    {
        public static readonly FrozenDictionary<TEnum, string> Words = ByWord(typeof(TEnum)).ToFrozenDictionary(w => (TEnum)w.Value, w => w.Key);
    }
}
