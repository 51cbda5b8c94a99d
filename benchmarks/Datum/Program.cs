using System.Diagnostics;
using System.Globalization;
using Pairbench.Imaging;
using Pairbench.Imaging.Datum;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Photographs;
using Pairbench.Imaging.Tests.Datum;

CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
var views = args.Length > 1 ? int.Parse(args[1], CultureInfo.InvariantCulture) : 300;
var width = args.Length > 2 ? int.Parse(args[2], CultureInfo.InvariantCulture) : 1600;
var size = new PixelSize(width, width * 3 / 4);
switch (args.FirstOrDefault())
{
    case "sheet":
        Trials(SceneKind.Sheet, paperPct: 0);
        break;
    case "paper":
        Trials(SceneKind.Sheet, paperPct: 0.2);
        break;
    case "cards":
        Trials(SceneKind.Cards, paperPct: 0);
        break;
    case "cards-paper":
        Trials(SceneKind.Cards, paperPct: 0.2);
        break;
    case "nothing":
        Nothing();
        break;
    case "one":
        var scene = new DatumScene(views, args.Length > 3 ? SceneKind.Cards : SceneKind.Sheet, size);
        File.WriteAllBytes("scene.png", PictureWriter.Png(scene.Photo.Decode()));
        foreach (var level in new PictureSizes(scene.Photo.Decode()).ToRead)
        {
            Console.WriteLine($"size {level.Width}: {string.Join(" ", FinderMarks.In(level).Select(m => $"({m.X * level.Step:0},{m.Y * level.Step:0} {m.ModulePx * level.Step:0.0} {m.Rows})"))} codes {string.Join(" ", CodeReader.In(level).Select(c => c.Text))}");
        }

        Console.WriteLine($"blur {scene.Blur:0.00} noise {scene.Noise:0.0} hidden {scene.Hidden} {DatumTrial.Of(scene, 0)}");
        break;
    default:
        Console.Error.WriteLine("sheet|paper|cards|cards-paper|nothing [VIEWS] [WIDTH]");
        return 2;
}

return 0;

void Trials(SceneKind kind, double paperPct)
{
    var trials = new List<DatumTrial>();
    var (time, work) = (TimeSpan.Zero, TimeSpan.Zero);
    for (var seed = 0; seed < views; seed++)
    {
        var scene = new DatumScene(seed, kind, size, paperPct);
        using var self = Process.GetCurrentProcess();
        var (started, before) = (Stopwatch.GetTimestamp(), self.TotalProcessorTime);
        var trial = DatumTrial.Of(scene, paperPct);
        time += Stopwatch.GetElapsedTime(started);
        self.Refresh();
        work += self.TotalProcessorTime - before;
        trials.Add(trial);
        if (!trial.Found || Math.Abs(trial.LengthErrorMm) > 0.1 + (3 * paperPct) || trial.WorstCornerPx > 1)
        {
            Console.WriteLine($"seed {seed}: blur {scene.Blur:0.00} noise {scene.Noise:0.0} hidden {scene.Hidden}: {trial}");
        }
    }

    var found = trials.Where(t => t.Found).ToArray();
    var errors = found.Select(t => Math.Abs(t.LengthErrorMm)).Order().ToArray();
    Console.WriteLine($"{kind}, paper {paperPct} %, {width} px: found {found.Length} of {views}; corners {Rms(found.Select(t => t.CornerRmsPx)):0.000} px RMS, worst {found.Max(t => t.WorstCornerPx):0.00} px; "
        + $"100 mm: RMS {Rms(errors):0.000} mm, 95 % within {errors[(int)(0.95 * errors.Length)]:0.000}, worst {errors[^1]:0.000} mm; interval holds {100.0 * found.Count(t => t.Covered) / found.Length:0.0} %; {time.TotalMilliseconds / views:0} ms to find, {work.TotalMilliseconds / views:0} ms of processor");
}

void Nothing()
{
    var wrong = 0;
    for (var seed = 0; seed < views; seed++)
    {
        var scene = new DatumScene(seed, SceneKind.Nothing, size);
        foreach (PrintedScale scale in new PrintedScale[] { new SheetScale(), new CardsScale() })
        {
            try
            {
                DatumFinder.Find(scale, scene.Photo);
                wrong++;
            }
            catch (ScaleException)
            {
            }
        }
    }

    Console.WriteLine($"nothing there, {width} px: {wrong} found in {views}");
}

static double Rms(IEnumerable<double> values) => Math.Sqrt(values.Average(v => v * v));
