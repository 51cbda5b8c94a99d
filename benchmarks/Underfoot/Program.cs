using System.Globalization;
using Pairbench.Benchmarks.Underfoot;

switch (args)
{
    case ["export", var folder, var from, var to]:
        Export.Write(folder, int.Parse(from, CultureInfo.InvariantCulture), int.Parse(to, CultureInfo.InvariantCulture));
        return 0;
    case ["scenes", var from, var to, .. var modes]:
        SceneTrials.Scenes(int.Parse(from, CultureInfo.InvariantCulture), int.Parse(to, CultureInfo.InvariantCulture), TrialModes.Of(modes));
        return 0;
    case ["rendered", var from, var to, .. var modes]:
        SceneTrials.Rendered(int.Parse(from, CultureInfo.InvariantCulture), int.Parse(to, CultureInfo.InvariantCulture), TrialModes.Of(modes));
        return 0;
    case ["exported", var folder, var from, var to, .. var modes]:
        SceneTrials.Exported(folder, int.Parse(from, CultureInfo.InvariantCulture), int.Parse(to, CultureInfo.InvariantCulture), TrialModes.Of(modes));
        return 0;
    case ["timed", var from, var to]:
        SceneTrials.Time(int.Parse(from, CultureInfo.InvariantCulture), int.Parse(to, CultureInfo.InvariantCulture));
        return 0;
    default:
        Console.Error.WriteLine("usage: export FOLDER FROM TO | scenes FROM TO [dabs|traced]... [asked N] | rendered FROM TO [dabs|traced]... [asked N] | exported FOLDER FROM TO [dabs|traced]... [asked N] | timed FROM TO");
        return 2;
}
