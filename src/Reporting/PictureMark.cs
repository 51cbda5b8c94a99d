using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Imaging;

namespace Pairbench.Reporting;

/// <summary>A mark on a photograph as lines and places in its pixels; may be empty.</summary>
/// <param name="Points">Single places.</param>
/// <param name="Lines">Open lines.</param>
/// <param name="Outlines">Closed lines.</param>
public sealed record PictureMark(ImmutableArray<PixelPoint> Points, ImmutableArray<ImmutableArray<PixelPoint>> Lines, ImmutableArray<ImmutableArray<PixelPoint>> Outlines)
{
    private const int MostPoints = 10_000;

    public static PictureMark None { get; } = new([], [], []);

    public bool IsEmpty => Points.IsEmpty && Lines.IsEmpty && Outlines.IsEmpty;

    /// <summary>The mark with an arrow that points at its middle from the side where the picture has more room.</summary>
    public PictureMark WithArrow(PixelSize picture)
    {
        if (IsEmpty)
        {
            return this;
        }

        var all = All.ToList();
        var (x, y) = (all.Average(p => p.X), all.Average(p => p.Y));
        var unit = Math.Max(picture.Width, picture.Height) / 200.0;
        var half = Points.IsEmpty ? Math.Max(all.Max(p => p.X) - all.Min(p => p.X), all.Max(p => p.Y) - all.Min(p => p.Y)) / 2 : 6 * unit;
        var (dx, dy) = (x > picture.Width / 2.0 ? -1 : 1, y > picture.Height / 2.0 ? -1 : 1);
        PixelPoint At(double away, double across) => new(x + (((dx * away) - (dy * across)) * Math.Sqrt(0.5)), y + (((dy * away) + (dx * across)) * Math.Sqrt(0.5)));
        var tip = half + (3 * unit);
        return this with { Lines = [.. Lines, [At(tip + (30 * unit), 0), At(tip, 0)], [At(tip + (7 * unit), 4 * unit), At(tip, 0), At(tip + (7 * unit), -4 * unit)]] };
    }

    /// <summary>
    /// Reads a mark as evidence gives it: <c>{ "point": [x, y] }</c>, <c>{ "path": [[x, y], ...] }</c>, <c>{ "polygon": [[x, y], ...] }</c> or <c>{ "rect": [x, y, w, h] }</c>, or several of them.
    /// What is none of these is left out: a mark that cannot be drawn must not cost the report.
    /// </summary>
    public static PictureMark Read(JsonElement? mark)
    {
        if (mark is not { ValueKind: JsonValueKind.Object } given)
        {
            return None;
        }

        var points = ImmutableArray.CreateBuilder<PixelPoint>();
        var lines = ImmutableArray.CreateBuilder<ImmutableArray<PixelPoint>>();
        var outlines = ImmutableArray.CreateBuilder<ImmutableArray<PixelPoint>>();
        foreach (var property in given.EnumerateObject())
        {
            var numbers = Numbers(property.Value);
            var list = Pairs(property.Value);
            switch (property.Name)
            {
                case "point" when numbers.Length == 2:
                    points.Add(new PixelPoint(numbers[0], numbers[1]));
                    break;
                case "rect" when numbers.Length == 4:
                    var (x, y, w, h) = (numbers[0], numbers[1], numbers[2], numbers[3]);
                    outlines.Add([new(x, y), new(x + w, y), new(x + w, y + h), new(x, y + h)]);
                    break;
                case "points":
                    points.AddRange(list);
                    break;
                case "path" when list.Length == 1:
                    points.AddRange(list);
                    break;
                case "path" when list.Length > 1:
                    lines.Add(list);
                    break;
                case "polygon" when list.Length > 2:
                    outlines.Add(list);
                    break;
                default:
                    break;
            }
        }

        return new PictureMark(points.ToImmutable(), lines.ToImmutable(), outlines.ToImmutable());
    }

    /// <summary>Every place of the mark.</summary>
    public IEnumerable<PixelPoint> All => [.. Points, .. Lines.SelectMany(l => l), .. Outlines.SelectMany(l => l)];

    /// <summary>The mark on a part of the picture that was shrunk.</summary>
    public PictureMark On(PixelPoint corner, double scale)
    {
        PixelPoint Move(PixelPoint p) => new((p.X - corner.X) * scale, (p.Y - corner.Y) * scale);
        ImmutableArray<PixelPoint> MoveAll(ImmutableArray<PixelPoint> line) => [.. line.Select(Move)];
        return new(MoveAll(Points), [.. Lines.Select(MoveAll)], [.. Outlines.Select(MoveAll)]);
    }

    private static ImmutableArray<double> Numbers(JsonElement e) => e.ValueKind == JsonValueKind.Array && e.GetArrayLength() <= 4
        ? [.. e.EnumerateArray().Where(IsNumber).Select(n => n.GetDouble())]
        : [];

    private static ImmutableArray<PixelPoint> Pairs(JsonElement e) => e.ValueKind == JsonValueKind.Array && e.GetArrayLength() <= MostPoints
        ? [.. e.EnumerateArray().Select(Numbers).Where(n => n.Length == 2).Select(n => new PixelPoint(n[0], n[1]))]
        : [];

    private static bool IsNumber(JsonElement e) => e.ValueKind == JsonValueKind.Number && e.TryGetDouble(out var value) && Math.Abs(value) < 1e6;
}
