using System.Collections.Immutable;

namespace Pairbench.Imaging.Datum;

/// <summary>One picture at its full size and shrunk by halves, made as they are asked for.</summary>
internal sealed class PictureSizes
{
    private const int ReadFirst = 2200;

    private const int Coarsest = 500;

    // Finer than this, an edge is no surer and costs more.
    private const double EnoughModulePx = 14;

    private readonly List<GreyPicture> _levels;

    public PictureSizes(RgbImage picture) => _levels = [GreyPicture.Of(picture)];

    public PixelSize Size => new(_levels[0].Width, _levels[0].Height);

    /// <summary>Sizes to read codes at, the most promising first.</summary>
    public ImmutableArray<GreyPicture> ToRead
    {
        get
        {
            var first = 0;
            while (Longest(At(first)) > ReadFirst)
            {
                first++;
            }

            var order = ImmutableArray.CreateBuilder<GreyPicture>();
            order.Add(At(first));
            if (Longest(At(first)) >= 2 * Coarsest)
            {
                order.Add(At(first + 1));
            }

            for (var finer = first - 1; finer >= 0; finer--)
            {
                order.Add(At(finer));
            }

            if (Longest(At(first)) >= 4 * Coarsest)
            {
                order.Add(At(first + 2));
            }

            return order.ToImmutable();
        }
    }

    /// <summary>The size at which edges are looked at.</summary>
    /// <param name="modulePx">Of a code, in pixels of the full picture.</param>
    public GreyPicture ForEdges(double modulePx)
    {
        var level = 0;
        while (modulePx / Math.Pow(2, level) > EnoughModulePx)
        {
            level++;
        }

        return At(level);
    }

    private static int Longest(GreyPicture picture) => Math.Max(picture.Width, picture.Height);

    private GreyPicture At(int level)
    {
        while (_levels.Count <= level)
        {
            _levels.Add(_levels[^1].Half());
        }

        return _levels[level];
    }
}
