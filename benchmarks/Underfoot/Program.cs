using System.Globalization;
using Pairbench.Benchmarks.Underfoot;

// usage: export FOLDER FROM TO | scenes FROM TO [dabs|traced] | picture FILE.json
switch (args)
{
    case ["export", var folder, var from, var to]:
        Export.Write(folder, int.Parse(from, CultureInfo.InvariantCulture), int.Parse(to, CultureInfo.InvariantCulture));
        return 0;
    case ["scenes", var from, var to, .. var modes]:
        SceneTrials.Run(int.Parse(from, CultureInfo.InvariantCulture), int.Parse(to, CultureInfo.InvariantCulture), modes);
        return 0;
    default:
        Console.Error.WriteLine("usage: export FOLDER FROM TO | scenes FROM TO [dabs|traced]...");
        return 2;
}
