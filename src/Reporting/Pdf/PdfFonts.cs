using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using HarfBuzzSharp;
using SkiaSharp;

namespace Pairbench.Reporting.Pdf;

/// <summary>Weight, size in points and colour of a text.</summary>
internal readonly record struct TextStyle(float Size, bool Bold, SKColor Ink)
{
    public float LineHeight => Size * 1.38f;

    public TextStyle Strong => this with { Bold = true };
}

/// <summary>A stretch of one font, shaped.</summary>
internal sealed record ShapedRun(SKTypeface Typeface, ImmutableArray<ushort> Glyphs, ImmutableArray<SKPoint> Places, float Width);

/// <summary>
/// Fonts of the PDF. Text is set in the Noto Sans that comes with the program, so that a report looks the same on every machine, one without fonts included;
/// characters it lacks are taken from the fonts of the machine, and where there is none a box stands for them.
/// </summary>
internal sealed class PdfFonts : IDisposable
{
    private static readonly ImmutableArray<string> FontFolders =
    [
        "/usr/share/fonts", "/usr/local/share/fonts", "/System/Library/Fonts", "/Library/Fonts",
        Environment.GetFolderPath(Environment.SpecialFolder.Fonts),
    ];

    private readonly Face _regular = Face.OfResource("NotoSans-Regular.ttf");
    private readonly Face _bold = Face.OfResource("NotoSans-Bold.ttf");
    private readonly Face _signs = Face.OfResource("NotoSansMath-Regular.ttf");
    private readonly Dictionary<int, Face?> _others = [];
    private readonly List<Face> _machine = [];
    private readonly Dictionary<(bool Bold, string Word), float> _widths = [];
    private ImmutableArray<string> _unread = [];
    private bool _listed;

    /// <summary>Characters that no font has.</summary>
    public SortedSet<string> Missing { get; } = new(StringComparer.Ordinal);

    /// <summary>The face that texts of drawings are set in.</summary>
    public SKTypeface Typeface(bool bold) => (bold ? _bold : _regular).Typeface;

    /// <summary>Width in points.</summary>
    public float Width(string text, TextStyle style)
    {
        if (!_widths.TryGetValue((style.Bold, text), out var width))
        {
            width = Shape(text, style with { Size = 100 }).Sum(r => r.Width);
            _widths[(style.Bold, text)] = width;
        }

        return width * style.Size / 100;
    }

    /// <summary>Glyphs with their places from the start of the text.</summary>
    public ImmutableArray<ShapedRun> Shape(string text, TextStyle style)
    {
        var runs = ImmutableArray.CreateBuilder<ShapedRun>();
        foreach (var (face, stretch) in ByFace(text, style.Bold))
        {
            runs.Add(Shape(face, stretch, style.Size));
        }

        return runs.ToImmutable();
    }

    /// <summary>Words into lines of at most the width; a word that is too long is broken.</summary>
    public ImmutableArray<string> Wrap(string text, float width, TextStyle style)
    {
        var lines = ImmutableArray.CreateBuilder<string>();
        foreach (var paragraph in PlainText.Of(text).Replace('\t', ' ').Split('\n'))
        {
            var line = new StringBuilder();
            foreach (var word in paragraph.Split(' ', StringSplitOptions.RemoveEmptyEntries).SelectMany(w => Pieces(w, width, style)))
            {
                if (line.Length > 0 && Width($"{line} {word}", style) > width)
                {
                    lines.Add(line.ToString());
                    line.Clear();
                }

                line.Append(line.Length > 0 ? " " : "").Append(word);
            }

            lines.Add(line.ToString());
        }

        return lines.ToImmutable();
    }

    public void Dispose()
    {
        _regular.Dispose();
        _bold.Dispose();
        _signs.Dispose();
        _machine.ForEach(f => f.Dispose());
    }

    private static ShapedRun Shape(Face face, string text, float size)
    {
        using var buffer = new HarfBuzzSharp.Buffer();
        buffer.AddUtf16(text);
        buffer.GuessSegmentProperties();

        // Ligatures would be copied from the PDF as one character.
        face.Shaper.Shape(buffer, new Feature(new Tag('l', 'i', 'g', 'a'), 0));
        var scale = size / face.UnitsPerEm;
        var glyphs = ImmutableArray.CreateBuilder<ushort>(buffer.Length);
        var places = ImmutableArray.CreateBuilder<SKPoint>(buffer.Length);
        float x = 0;
        foreach (var (info, position) in buffer.GlyphInfos.Zip(buffer.GlyphPositions))
        {
            glyphs.Add((ushort)info.Codepoint);
            places.Add(new SKPoint(x + (position.XOffset * scale), -position.YOffset * scale));
            x += position.XAdvance * scale;
        }

        return new ShapedRun(face.Typeface, glyphs.ToImmutable(), places.ToImmutable(), x);
    }

    private IEnumerable<string> Pieces(string word, float width, TextStyle style)
    {
        while (Width(word, style) > width)
        {
            var fits = new StringBuilder();
            var elements = StringInfo.GetTextElementEnumerator(word);
            while (elements.MoveNext() && (fits.Length == 0 || Width(fits.ToString() + elements.GetTextElement(), style) <= width))
            {
                fits.Append(elements.GetTextElement());
            }

            yield return fits.ToString();
            word = word[fits.Length..];
            if (word.Length == 0)
            {
                yield break;
            }
        }

        yield return word;
    }

    private IEnumerable<(Face Face, string Text)> ByFace(string text, bool bold)
    {
        var stretch = new StringBuilder();
        Face? current = null;
        foreach (var rune in text.EnumerateRunes())
        {
            var face = FaceOf(rune, bold);
            if (face != current && stretch.Length > 0)
            {
                yield return (current!, stretch.ToString());
                stretch.Clear();
            }

            current = face;
            stretch.Append(rune.ToString());
        }

        if (stretch.Length > 0)
        {
            yield return (current!, stretch.ToString());
        }
    }

    private Face FaceOf(Rune rune, bool bold)
    {
        var own = bold ? _bold : _regular;
        if (own.Has(rune.Value) || Rune.IsWhiteSpace(rune) || Rune.GetUnicodeCategory(rune) is UnicodeCategory.Format)
        {
            return own;
        }

        if (_signs.Has(rune.Value))
        {
            return _signs;
        }

        if (!_others.TryGetValue(rune.Value, out var other))
        {
            other = OnMachine(rune.Value);
            _others[rune.Value] = other;
            if (other is null)
            {
                Missing.Add(rune.ToString());
            }
        }

        return other ?? own;
    }

    /// <summary>The first font of the machine that has the character. The drawing library knows no fonts of the system in this build, so folders are searched.</summary>
    private Face? OnMachine(int character)
    {
        if (!_listed)
        {
            _listed = true;
            _unread = [.. FontFolders.Where(Directory.Exists).SelectMany(Files).Order(StringComparer.Ordinal)];
        }

        if (_machine.Find(f => f.Has(character)) is { } known)
        {
            return known;
        }

        while (!_unread.IsEmpty)
        {
            var file = _unread[0];
            _unread = _unread.RemoveAt(0);
            if (Face.OfFile(file) is { } face)
            {
                _machine.Add(face);
                if (face.Has(character))
                {
                    return face;
                }
            }
        }

        return null;
    }

    private static IEnumerable<string> Files(string folder) => Directory
        .EnumerateFiles(folder, "*", new EnumerationOptions { RecurseSubdirectories = true, IgnoreInaccessible = true, MaxRecursionDepth = 6 })
        .Where(f => Path.GetExtension(f).ToUpperInvariant() is ".TTF" or ".OTF" or ".TTC");

    private sealed class Face : IDisposable
    {
        private readonly SKData _data;
        private readonly Blob _blob;
        private readonly HarfBuzzSharp.Face _face;

        private Face(SKTypeface typeface, SKData data)
        {
            Typeface = typeface;

            // The blob points into the data, so both live as long as the face.
            _data = data;
            _blob = new Blob(data.Data, (int)data.Size, MemoryMode.ReadOnly);
            _face = new HarfBuzzSharp.Face(_blob, 0);
            Shaper = new Font(_face);
            Shaper.SetFunctionsOpenType();
        }

        public SKTypeface Typeface { get; }

        public Font Shaper { get; }

        public int UnitsPerEm => _face.UnitsPerEm;

        public bool Has(int character) => Shaper.TryGetNominalGlyph(character, out _);

        public static Face OfResource(string name)
        {
            using var stream = typeof(PdfFonts).Assembly.GetManifestResourceStream(name)!;
            using var memory = new MemoryStream();
            stream.CopyTo(memory);
            return Of(memory.ToArray()) ?? throw new InvalidOperationException($"{name} is no font.");
        }

        public static Face? OfFile(string path)
        {
            try
            {
                return Of(File.ReadAllBytes(path));
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                return null;
            }
        }

        public void Dispose()
        {
            Shaper.Dispose();
            _face.Dispose();
            _blob.Dispose();
            Typeface.Dispose();
            _data.Dispose();
        }

        private static Face? Of(byte[] bytes)
        {
            var data = SKData.CreateCopy(bytes);
            if (SKTypeface.FromData(data) is { } typeface)
            {
                return new Face(typeface, data);
            }

            data.Dispose();
            return null;
        }
    }
}
