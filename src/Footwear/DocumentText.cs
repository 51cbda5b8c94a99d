using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear;

/// <summary>JSON documents as the program writes and keeps them: indented, letters of every script as themselves.</summary>
public static class DocumentText
{
    private static readonly JsonSerializerOptions Written = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
    private static readonly UTF8Encoding Strict = new(encoderShouldEmitUTF8Identifier: false, throwOnInvalidBytes: true);

    public static string Of(JsonNode document)
    {
        ArgumentNullException.ThrowIfNull(document);
        return document.ToJsonString(Written);
    }

    /// <summary>Reads a kept text again.</summary>
    /// <param name="where">Name of the document, for the fault.</param>
    /// <exception cref="FaultsException">It is not JSON, or no file can hold it.</exception>
    public static JsonElement Read(string text, string where)
    {
        byte[] utf8;
        try
        {
            utf8 = Strict.GetBytes(text);
        }
        catch (EncoderFallbackException)
        {
            throw new FaultsException(new Fault(where, "holds half of a character, which UTF-8 cannot write", "remove it"));
        }

        return ShapeReader.Parse(utf8, where);
    }
}
