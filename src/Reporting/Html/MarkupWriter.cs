using System.Text;

namespace Pairbench.Reporting.Html;

/// <summary>Writes markup that is well-formed both as HTML and as XML. Every text and attribute is escaped.</summary>
internal sealed class MarkupWriter
{
    private readonly StringBuilder _text = new();
    private readonly Stack<string> _open = new();

    /// <summary>An element that holds what is written until it is disposed of.</summary>
    public Opened In(string name, params ReadOnlySpan<(string Name, string? Value)> attributes)
    {
        Start(name, attributes);
        _text.Append('>');
        _open.Push(name);
        return new Opened(this, name);
    }

    /// <summary>An element that never has content, such as img.</summary>
    public void Leaf(string name, params ReadOnlySpan<(string Name, string? Value)> attributes)
    {
        Start(name, attributes);
        _text.Append("/>");
    }

    public void Element(string name, string text, params ReadOnlySpan<(string Name, string? Value)> attributes)
    {
        using (In(name, attributes))
        {
            Text(text);
        }
    }

    public void Text(string text) => Escape(text);

    /// <summary>Markup of our own making that is well-formed already.</summary>
    public void Raw(string markup) => _text.Append(markup);

    public override string ToString() => _open.Count == 0 ? _text.ToString() : throw new InvalidOperationException($"'{_open.Peek()}' is still open.");

    private void Close(string name)
    {
        var open = _open.Pop();
        if (open != name)
        {
            throw new InvalidOperationException($"'{name}' closes '{open}'.");
        }

        _text.Append("</").Append(name).Append('>');
    }

    private void Start(string name, ReadOnlySpan<(string Name, string? Value)> attributes)
    {
        _text.Append('<').Append(name);
        foreach (var (attribute, value) in attributes)
        {
            if (value is not null)
            {
                _text.Append(' ').Append(attribute).Append("=\"");
                Escape(value);
                _text.Append('"');
            }
        }
    }

    private void Escape(string text)
    {
        foreach (var rune in PlainText.Of(text).EnumerateRunes())
        {
            _ = rune.Value switch
            {
                '<' => _text.Append("&lt;"),
                '>' => _text.Append("&gt;"),
                '&' => _text.Append("&amp;"),
                '"' => _text.Append("&quot;"),
                '\'' => _text.Append("&#39;"),
                _ => _text.Append(rune.ToString()),
            };
        }
    }

    /// <summary>An element that is open.</summary>
    public readonly struct Opened(MarkupWriter writer, string name) : IDisposable
    {
        /// <exception cref="InvalidOperationException">Another element is open in it.</exception>
        public void Dispose() => writer.Close(name);
    }
}
