using System.Globalization;
using System.Text;
using System.Xml.Linq;

namespace Pairbench.Footwear.Oven;

/// <summary>
/// The stack to scale, foot at the top and ground at the bottom, with profiles of temperature at several times on the same depth axis and the
/// limit of each layer; below it air and layers over time.
/// </summary>
internal static class OvenPlate
{
    private const double Width = 760;
    private const double StackLeft = 12;
    private const double StackWidth = 190;
    private const double PlotLeft = 230;
    private const double PlotRight = 730;
    private const double Top = 34;
    private const double Height = 300;
    private const double TimeTop = 404;
    private const double TimeHeight = 190;

    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";
    private static readonly string[] Fills = ["#e6e0d2", "#d5cfc0"];
    private static readonly string[] Dashes = ["", "7 3", "2 3", "9 3 2 3", "4 4"];

    /// <summary>When profiles are drawn, as shares of the programme.</summary>
    private static readonly double[] Shares = [0.05, 0.15, 0.35, 0.6, 1];

    public static Plate Of(OvenRun run, OvenConditions conditions)
    {
        var drawing = new XElement(Svg + "svg", new XAttribute("font-family", "sans-serif"), new XAttribute("font-size", 11), new XAttribute("viewBox", $"0 0 {N(Width)} {N(TimeTop + TimeHeight + 44)}"), new XAttribute("width", N(Width)), new XAttribute("height", N(TimeTop + TimeHeight + 44)), new XAttribute("role", "img"));
        drawing.Add(new XElement(Svg + "title", "Temperature by depth and time"), new XElement(Svg + "desc", Words(run)));
        drawing.Add(new XElement(Svg + "rect", new XAttribute("width", N(Width)), new XAttribute("height", N(TimeTop + TimeHeight + 44)), new XAttribute("fill", "#fbfaf7")));
        var record = run.Record;
        var depth = record.Depths[record.PlacesOf(run.Layers.Length - 1).End.Value - 1];
        var temperatures = record.Profiles.SelectMany(p => p.C).Concat(run.Layers.Select(l => l.Layer.Material.Limit?.Measured.Value ?? double.NegativeInfinity).Where(double.IsFinite)).ToList();
        var air = conditions.Program.Select(p => p.AirC.Value).Append(conditions.StartC.Value).ToList();
        var low = 10 * Math.Floor(Math.Min(temperatures.Min(), air.Min()) / 10);
        var high = 10 * Math.Ceiling((Math.Max(temperatures.Max(), air.Max()) + 1) / 10);
        double X(double celsius) => PlotLeft + ((celsius - low) / (high - low) * (PlotRight - PlotLeft));
        double Y(double metres) => Top + Height - (metres / depth * Height);
        DrawStack(drawing, run, Y, X);
        TemperatureAxis(drawing, low, high, X);
        DrawProfiles(drawing, run, X, Y);
        DrawTimes(drawing, run, conditions, low, high);
        return new Plate("temperature", "temperature.svg", $"Temperature by depth at several times beside the stack, and by time. {Words(run)}", "image/svg+xml", Encoding.UTF8.GetBytes(drawing.ToString(SaveOptions.DisableFormatting)));
    }

    private static string Words(OvenRun run) => string.Join(" ", run.Layers.Select(l => FormattableString.Invariant($"{l.Layer.Name} peaks at {l.Peak.Value:0} °C after {l.PeakAtMinutes:0} min{(l.Layer.Material.Limit is { } limit ? $", limit {limit.Measured.Value:0} °C" : "")}.")));

    private static void DrawStack(XElement drawing, OvenRun run, Func<double, double> y, Func<double, double> x)
    {
        drawing.Add(Text(StackLeft, Top - 18, "foot, last", "start"), Text(StackLeft, Top + Height + 26, "ground, air", "start"));
        var labels = new List<(double Wanted, string Words)>();
        foreach (var (layer, i) in run.Layers.Select((l, i) => (l, i)))
        {
            var places = run.Record.PlacesOf(i);
            var (outer, inner) = (y(run.Record.Depths[places.Start.Value]), y(run.Record.Depths[places.End.Value - 1]));
            drawing.Add(new XElement(Svg + "rect", new XAttribute("x", N(StackLeft)), new XAttribute("y", N(inner)), new XAttribute("width", N(PlotRight - StackLeft)), new XAttribute("height", N(Math.Max(0.5, outer - inner))), new XAttribute("fill", Fills[i % 2]), new XAttribute("fill-opacity", "0.8")));
            labels.Add(((outer + inner) / 2, FormattableString.Invariant($"{Short(layer.Layer.Id)}, {layer.Layer.Given.ThicknessMm.Value:0.##} mm")));
            if (layer.Layer.Material.Limit is { } limit)
            {
                var at = x(limit.Measured.Value);
                drawing.Add(Line(at, outer, at, inner, "#9a2f22", 2.2, ""), Line(at - 4, (outer + inner) / 2, at + 4, (outer + inner) / 2, "#9a2f22", 1.2, ""));
            }
        }

        // Names of thin layers would lie on each other: they are pushed apart and led to their layer.
        var next = double.PositiveInfinity;
        foreach (var (wanted, words) in labels)
        {
            var at = Math.Min(wanted, next - 13);
            next = at;
            drawing.Add(Line(StackLeft + StackWidth - 6, at, StackLeft + StackWidth + 8, wanted, "#6b675f", 0.6, ""), Text(StackLeft + 6, at + 4, words, "start"));
        }
    }

    private static void DrawProfiles(XElement drawing, OvenRun run, Func<double, double> x, Func<double, double> y)
    {
        var profiles = run.Record.Profiles;
        var end = profiles[^1].Seconds;
        var count = run.Record.PlacesOf(run.Layers.Length - 1).End.Value;
        foreach (var (share, i) in Shares.Select((s, i) => (s, i)))
        {
            var (seconds, celsius) = profiles.MinBy(p => Math.Abs(p.Seconds - (share * end)));
            drawing.Add(new XElement(Svg + "polyline", new XAttribute("points", string.Join(' ', Enumerable.Range(0, count).Select(p => $"{N(x(celsius[p]))},{N(y(run.Record.Depths[p]))}"))), new XAttribute("fill", "none"), new XAttribute("stroke", "#1f4e63"), new XAttribute("stroke-width", i == 4 ? 2 : 1.2), Dash(Dashes[^(i + 1)])));
            drawing.Add(Text(x(celsius[0]), Top + Height + (i % 2 == 0 ? 38 : 50), FormattableString.Invariant($"{seconds / 60:0} min"), "middle"));
        }
    }

    private static void TemperatureAxis(XElement drawing, double low, double high, Func<double, double> x)
    {
        var step = high - low > 120 ? 20 : 10;
        for (var c = low; c <= high + 1e-9; c += step)
        {
            drawing.Add(Line(x(c), Top, x(c), Top + Height, "#b9b3a5", 0.5, ""), Text(x(c), Top + Height + 14, N(c), "middle"));
        }

        drawing.Add(Text(PlotRight, Top - 18, "temperature in °C by depth; the red line in a layer is its limit", "end"));
    }

    private static void DrawTimes(XElement drawing, OvenRun run, OvenConditions conditions, double low, double high)
    {
        var end = run.Record.Profiles[^1].Seconds;
        double X(double seconds) => PlotLeft + (seconds / end * (PlotRight - PlotLeft));
        double Y(double celsius) => TimeTop + TimeHeight - ((celsius - low) / (high - low) * TimeHeight);
        for (var c = low; c <= high + 1e-9; c += 20)
        {
            drawing.Add(Line(PlotLeft, Y(c), PlotRight, Y(c), "#b9b3a5", 0.5, ""), Text(PlotLeft - 6, Y(c) + 4, N(c), "end"));
        }

        var minutes = end / 60;
        var step = new[] { 1.0, 2, 5, 10, 20, 30, 60, 120, 240, 480, 1440 }.First(s => minutes / s <= 10 || s >= 1440);
        for (var m = 0.0; m <= minutes + 1e-9; m += step)
        {
            drawing.Add(Line(X(m * 60), TimeTop, X(m * 60), TimeTop + TimeHeight, "#b9b3a5", 0.5, ""), Text(X(m * 60), TimeTop + TimeHeight + 15, N(m), "middle"));
        }

        drawing.Add(Text(PlotRight, TimeTop - 8, "temperature in °C by time in min: middle of each layer, and the air", "end"));
        var points = new List<string> { $"{N(X(0))},{N(Y(conditions.StartC.Value))}" };
        var time = 0.0;
        foreach (var stretch in conditions.Program)
        {
            time += stretch.Minutes * 60;
            points.Add($"{N(X(time))},{N(Y(stretch.AirC.Value))}");
        }

        drawing.Add(new XElement(Svg + "polyline", new XAttribute("points", string.Join(' ', points)), new XAttribute("fill", "none"), new XAttribute("stroke", "#8d887e"), new XAttribute("stroke-width", 1.5)), Text(StackLeft + 6, TimeTop + 4, "air: grey", "start"));
        foreach (var (layer, i) in run.Layers.Select((l, i) => (l, i)))
        {
            var places = run.Record.PlacesOf(i);
            var place = (places.Start.Value + places.End.Value) / 2;
            var dash = Dashes[i % Dashes.Length];
            drawing.Add(
                new XElement(Svg + "polyline", new XAttribute("points", string.Join(' ', run.Record.Profiles.Select(p => $"{N(X(p.Seconds))},{N(Y(p.C[place]))}"))), new XAttribute("fill", "none"), new XAttribute("stroke", "#1f4e63"), new XAttribute("stroke-width", 1.2), Dash(dash)),
                Line(StackLeft + 6, TimeTop + 18 + (i * 15), StackLeft + 36, TimeTop + 18 + (i * 15), "#1f4e63", 1.2, dash),
                Text(StackLeft + 42, TimeTop + 22 + (i * 15), Short(layer.Layer.Id), "start"));
        }
    }

    private static XElement Line(double x1, double y1, double x2, double y2, string ink, double width, string dash) => new(
        Svg + "line", new XAttribute("x1", N(x1)), new XAttribute("y1", N(y1)), new XAttribute("x2", N(x2)), new XAttribute("y2", N(y2)), new XAttribute("stroke", ink), new XAttribute("stroke-width", N(width)), Dash(dash));

    private static XAttribute? Dash(string dash) => dash.Length == 0 ? null : new XAttribute("stroke-dasharray", dash);

    private static XElement Text(double x, double y, string words, string anchor) =>
        new(Svg + "text", new XAttribute("x", N(x)), new XAttribute("y", N(y)), new XAttribute("fill", "#2b2a28"), new XAttribute("text-anchor", anchor), words);

    private static string Short(string words) => words.Length > 22 ? words[..21] + "…" : words;

    private static string N(double number) => number.ToString("0.##", CultureInfo.InvariantCulture);
}
