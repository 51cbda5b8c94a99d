namespace Pairbench.Imaging.Datum;

/// <summary>The steps between light and dark modules of a code, neighbours of the same sense joined.</summary>
internal static class CodeEdges
{
    // What lies near a corner is blurred by the corner.
    private const double Inset = 0.2;

    public static IEnumerable<PrintedEdge> Of(PrintedCode code)
    {
        for (var line = 0; line <= PrintedCode.Modules; line++)
        {
            foreach (var edge in Along(code, i => (code[i, line - 1], code[i, line]), (i) => code.At(i, line)))
            {
                yield return edge;
            }

            // Walking down with y down, the right hand is on the left of the picture.
            foreach (var edge in Along(code, i => (code[line, i], code[line - 1, i]), (i) => code.At(line, i)))
            {
                yield return edge;
            }
        }
    }

    /// <param name="sides">Darkness left and right of the line at a module.</param>
    private static IEnumerable<PrintedEdge> Along(PrintedCode code, Func<int, (bool Left, bool Right)> sides, Func<double, PlanePoint> at)
    {
        for (var start = 0; start < PrintedCode.Modules;)
        {
            var (left, right) = sides(start);
            var end = start + 1;
            while (end < PrintedCode.Modules && sides(end) == (left, right))
            {
                end++;
            }

            if (left != right)
            {
                var (from, to) = (at(start + Inset), at(end - Inset));
                yield return right ? new PrintedEdge(from, to, 0, code.ModuleMm) : new PrintedEdge(to, from, 0, code.ModuleMm);
            }

            start = end;
        }
    }
}
