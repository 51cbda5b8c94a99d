using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>
/// Outcomes of earlier runs of one review, so that a change in one entry examines that entry alone. Examinations are pure: the same evidence, references
/// and subject give the same outcome as long as photographs and catalogue stay what they are; begin a new memory when these change.
/// </summary>
public sealed class OutcomeMemory
{
    private static readonly JsonSerializerOptions WithInfinity = new() { NumberHandling = JsonNumberHandling.AllowNamedFloatingPointLiterals };

    private readonly ConcurrentDictionary<EntryAddress, (string Key, Outcome Outcome)> _latest = new();

    internal Outcome Recall(Entry entry, IEnumerable<(FullAddress Address, Measured Value)> references, Subject subject, Func<Outcome> examine)
    {
        var key = KeyOf(entry, references, subject);
        if (_latest.TryGetValue(entry.Address, out var known) && known.Key == key)
        {
            return known.Outcome;
        }

        var outcome = examine();
        _latest[entry.Address] = (key, outcome);
        return outcome;
    }

    private static string KeyOf(Entry entry, IEnumerable<(FullAddress Address, Measured Value)> references, Subject subject)
    {
        var text = new StringBuilder(entry.Evidence.GetRawText()).Append('\n').Append(JsonSerializer.Serialize(subject, WithInfinity));
        foreach (var (address, value) in references)
        {
            text.Append('\n').Append(address).Append(JsonSerializer.Serialize(value, WithInfinity));
        }

        return Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }
}
