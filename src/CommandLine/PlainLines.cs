using System.Text;
using Pairbench.Reporting;

namespace Pairbench.CommandLine;

/// <summary>Messages for a terminal, which heeds control characters: names of folders and words of the system may hold some. One message is one line.</summary>
internal sealed class PlainLines(TextWriter inner) : TextWriter(inner.FormatProvider)
{
    public override Encoding Encoding => inner.Encoding;

    public override void Write(char value) => Write([value], 0, 1);

    public override void Write(char[] buffer, int index, int count) => inner.Write(PlainText.Of(new string(buffer, index, count)));

    public override void WriteLine(string? value) => inner.WriteLine(PlainText.Of((value ?? "").ReplaceLineEndings(" ")));

    public override void Flush() => inner.Flush();
}
