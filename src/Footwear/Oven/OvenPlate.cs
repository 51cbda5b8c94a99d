using Pairbench.Footwear.Plots;

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

    private const string Grid = "#b9b3a5";
    private const string Heat = "#1f4e63";
    private const string Limit = "#9a2f22";

    private static readonly string[] Fills = ["#eae5d9", "#ddd8cb"];
    private static readonly string[] Dashes = ["", "7 3", "2 3", "9 3 2 3", "4 4"];

    /// <summary>When profiles are drawn, as shares of the programme.</summary>
    private static readonly double[] Shares = [0.05, 0.15, 0.35, 0.6, 1];

    public static Plate Of(OvenRun run, OvenConditions conditions)
    {
        var drawing = new SvgSheet();
        drawing.Box(0, 0, Width, TimeTop + TimeHeight + 44, "#fbfaf7");
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
        return drawing.Plate("temperature", $"Temperature by depth at several times beside the stack, and by time. {Words(run)}", Width, TimeTop + TimeHeight + 44);
    }

    private static string Words(OvenRun run) => string.Join(" ", run.Layers.Select(l => FormattableString.Invariant($"{l.Layer.Name} peaks at {l.Peak.Value:0} °C after {l.PeakAtMinutes:0} min{(l.Layer.Material.Limit is { } limit ? $", limit {limit.Measured.Value:0} °C" : "")}.")));

    private static void DrawStack(SvgSheet drawing, OvenRun run, Func<double, double> y, Func<double, double> x)
    {
        drawing.Words(StackLeft, Top - 18, "foot, last");
        drawing.Words(StackLeft, Top + Height + 26, "ground, air");
        var labels = new List<(double Wanted, string Words)>();
        foreach (var (layer, i) in run.Layers.Select((l, i) => (l, i)))
        {
            var places = run.Record.PlacesOf(i);
            var (outer, inner) = (y(run.Record.Depths[places.Start.Value]), y(run.Record.Depths[places.End.Value - 1]));
            drawing.Box(StackLeft, inner, PlotRight - StackLeft, Math.Max(0.5, outer - inner), Fills[i % 2]);
            labels.Add(((outer + inner) / 2, FormattableString.Invariant($"{Short(layer.Layer.Id)}, {layer.Layer.Given.ThicknessMm.Value:0.##} mm")));
            if (layer.Layer.Material.Limit is { } limit)
            {
                var at = x(limit.Measured.Value);
                drawing.Line(at, outer, at, inner, Limit, 2.2);
                drawing.Line(at - 4, (outer + inner) / 2, at + 4, (outer + inner) / 2, Limit, 1.2);
            }
        }

        // Names of thin layers would lie on each other: they are pushed apart and led to their layer.
        var next = double.PositiveInfinity;
        foreach (var (wanted, words) in labels)
        {
            var at = Math.Min(wanted, next - 13);
            next = at;
            drawing.Line(StackLeft + StackWidth - 6, at, StackLeft + StackWidth + 8, wanted, SvgSheet.Quiet, 0.6);
            drawing.Words(StackLeft + 6, at + 4, words);
        }
    }

    private static void DrawProfiles(SvgSheet drawing, OvenRun run, Func<double, double> x, Func<double, double> y)
    {
        var profiles = run.Record.Profiles;
        var end = profiles[^1].Seconds;
        var count = run.Record.PlacesOf(run.Layers.Length - 1).End.Value;
        foreach (var (share, i) in Shares.Select((s, i) => (s, i)))
        {
            var (seconds, celsius) = profiles.MinBy(p => Math.Abs(p.Seconds - (share * end)));
            drawing.Path(Enumerable.Range(0, count).Select(p => (x(celsius[p]), y(run.Record.Depths[p]))), Heat, i == 4 ? 2 : 1.2, Dashes[^(i + 1)]);
            drawing.Words(x(celsius[0]), Top + Height + (i % 2 == 0 ? 38 : 50), FormattableString.Invariant($"{seconds / 60:0} min"), anchor: "middle");
        }
    }

    private static void TemperatureAxis(SvgSheet drawing, double low, double high, Func<double, double> x)
    {
        var step = high - low > 120 ? 20 : 10;
        for (var c = low; c <= high + 1e-9; c += step)
        {
            drawing.Line(x(c), Top, x(c), Top + Height, Grid, 0.5);
            drawing.Words(x(c), Top + Height + 14, Plain.Short(c), anchor: "middle");
        }

        drawing.Words(PlotRight, Top - 18, "temperature in °C by depth; the red line in a layer is its limit", anchor: "end", most: 80);
    }

    private static void DrawTimes(SvgSheet drawing, OvenRun run, OvenConditions conditions, double low, double high)
    {
        var end = run.Record.Profiles[^1].Seconds;
        double X(double seconds) => PlotLeft + (seconds / end * (PlotRight - PlotLeft));
        double Y(double celsius) => TimeTop + TimeHeight - ((celsius - low) / (high - low) * TimeHeight);
        for (var c = low; c <= high + 1e-9; c += 20)
        {
            drawing.Line(PlotLeft, Y(c), PlotRight, Y(c), Grid, 0.5);
            drawing.Words(PlotLeft - 6, Y(c) + 4, Plain.Short(c), anchor: "end");
        }

        var minutes = end / 60;
        var step = new[] { 1.0, 2, 5, 10, 20, 30, 60, 120, 240, 480, 1440 }.First(s => minutes / s <= 10 || s >= 1440);
        for (var m = 0.0; m <= minutes + 1e-9; m += step)
        {
            drawing.Line(X(m * 60), TimeTop, X(m * 60), TimeTop + TimeHeight, Grid, 0.5);
            drawing.Words(X(m * 60), TimeTop + TimeHeight + 15, Plain.Short(m), anchor: "middle");
        }

        drawing.Words(PlotRight, TimeTop - 8, "temperature in °C by time in min: middle of each layer, and the air", anchor: "end", most: 80);
        var points = new List<(double X, double Y)> { (X(0), Y(conditions.StartC.Value)) };
        var time = 0.0;
        foreach (var stretch in conditions.Program)
        {
            time += stretch.Minutes * 60;
            points.Add((X(time), Y(stretch.AirC.Value)));
        }

        drawing.Path(points, SvgSheet.Hairline, 1.5);
        drawing.Words(StackLeft + 6, TimeTop + 4, "air: grey");
        foreach (var (layer, i) in run.Layers.Select((l, i) => (l, i)))
        {
            var places = run.Record.PlacesOf(i);
            var place = (places.Start.Value + places.End.Value) / 2;
            var dash = Dashes[i % Dashes.Length];
            drawing.Path(run.Record.Profiles.Select(p => (X(p.Seconds), Y(p.C[place]))), Heat, 1.2, dash);
            drawing.Line(StackLeft + 6, TimeTop + 18 + (i * 15), StackLeft + 36, TimeTop + 18 + (i * 15), Heat, 1.2, dash);
            drawing.Words(StackLeft + 42, TimeTop + 22 + (i * 15), layer.Layer.Id, most: 22);
        }
    }

    private static string Short(string words) => words.Length > 22 ? words[..21] + "…" : words;
}
