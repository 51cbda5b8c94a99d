using System.Collections.Immutable;

namespace Pairbench.Imaging.Datum;

/// <summary>A finder pattern of a code (ISO/IEC 18004: dark and light in 1:1:3:1:1 across its middle), in pixels of the picture it was seen in.</summary>
/// <param name="Rows">In how many rows it was seen.</param>
internal readonly record struct FinderMark(double X, double Y, double ModulePx, int Rows);

/// <summary>Looks for finder patterns in any direction and light.</summary>
internal static class FinderMarks
{
    private const int Block = 8;

    private const int LeastContrast = 20;

    // Light blurs as light, and a picture's levels are about its square root: the middle of a blurred boundary is lighter than the middle of the levels.
    // Cameras that blur their levels as well lie between.
    public const double Middle = 0.57;

    private const int Most = 80;

    public static ImmutableArray<FinderMark> In(GreyPicture picture)
    {
        if (picture.Width < 4 * Block || picture.Height < 4 * Block)
        {
            return [];
        }

        var dark = Darkness(picture);
        var seen = new List<FinderMark>[picture.Height];
        Parallel.For(0, picture.Height, y => seen[y] = [.. InRow(dark, picture.Width, picture.Height, y)]);
        var marks = new List<FinderMark>();
        foreach (var mark in seen.SelectMany(s => s))
        {
            var same = marks.FindIndex(m => Math.Abs(m.X - mark.X) < m.ModulePx * 1.5 && Math.Abs(m.Y - mark.Y) < m.ModulePx * 1.5 && mark.ModulePx < 1.6 * m.ModulePx && m.ModulePx < 1.6 * mark.ModulePx);
            if (same < 0)
            {
                marks.Add(mark);
                continue;
            }

            var m = marks[same];
            var n = m.Rows + 1;
            marks[same] = new FinderMark(m.X + ((mark.X - m.X) / n), m.Y + ((mark.Y - m.Y) / n), m.ModulePx + ((mark.ModulePx - m.ModulePx) / n), n);
        }

        return [.. marks.Where(m => m.Rows >= 2).OrderByDescending(m => m.Rows).Take(Most)];
    }

    /// <summary>Dark against the middle between the darkest and the lightest of the neighbourhood.</summary>
    private static bool[] Darkness(GreyPicture picture)
    {
        var (wide, high) = ((picture.Width + Block - 1) / Block, (picture.Height + Block - 1) / Block);
        var least = new byte[wide * high];
        var most = new byte[wide * high];
        Parallel.For(0, high, by =>
        {
            var low = least.AsSpan(by * wide, wide);
            var top = most.AsSpan(by * wide, wide);
            low.Fill(255);
            for (var y = by * Block; y < Math.Min(picture.Height, (by + 1) * Block); y++)
            {
                var row = picture.Row(y);
                for (var x = 0; x < row.Length; x++)
                {
                    var b = x / Block;
                    low[b] = Math.Min(low[b], row[x]);
                    top[b] = Math.Max(top[b], row[x]);
                }
            }
        });

        var contrast = Math.Max(LeastContrast, 10 * Noise(picture));
        var dark = new bool[picture.Width * picture.Height];
        Parallel.For(0, high, by =>
        {
            for (var bx = 0; bx < wide; bx++)
            {
                var (low, top) = (255, 0);
                for (var j = Math.Max(0, by - 2); j <= Math.Min(high - 1, by + 2); j++)
                {
                    for (var i = Math.Max(0, bx - 2); i <= Math.Min(wide - 1, bx + 2); i++)
                    {
                        low = Math.Min(low, least[(j * wide) + i]);
                        top = Math.Max(top, most[(j * wide) + i]);
                    }
                }

                if (top - low < contrast)
                {
                    continue;
                }

                var threshold = low + (Middle * (top - low));
                for (var y = by * Block; y < Math.Min(picture.Height, (by + 1) * Block); y++)
                {
                    var row = picture.Row(y);
                    for (var x = bx * Block; x < Math.Min(picture.Width, (bx + 1) * Block); x++)
                    {
                        dark[(y * picture.Width) + x] = row[x] <= threshold;
                    }
                }
            }
        });
        return dark;
    }

    /// <summary>Standard deviation of the noise, from the median difference of neighbours along a row.</summary>
    private static double Noise(GreyPicture picture)
    {
        var counts = new int[256];
        var all = 0;
        for (var y = 0; y < picture.Height; y += 16)
        {
            var row = picture.Row(y);
            for (var x = 1; x < row.Length; x++)
            {
                counts[Math.Abs(row[x] - row[x - 1])]++;
                all++;
            }
        }

        var (median, below) = (0, counts[0]);
        while (2 * below < all)
        {
            below += counts[++median];
        }

        // Between whole levels, by how far into this one the middle lies.
        var within = median - 0.5 + (counts[median] > 0 ? 1 - ((below - (all / 2.0)) / counts[median]) : 0.5);
        return Math.Max(0, within) * 1.4826 / Math.Sqrt(2);
    }

    private static IEnumerable<FinderMark> InRow(bool[] dark, int width, int height, int y)
    {
        var runs = new int[5];
        var (count, length, at) = (0, 0, y * width);
        for (var x = 0; x <= width; x++)
        {
            if (x < width && (length == 0 || dark[at + x] == dark[at + x - 1]))
            {
                length++;
                continue;
            }

            runs.AsSpan(1).CopyTo(runs);
            runs[4] = length;
            count++;
            length = 1;

            // The run that has just ended is dark.
            if (count >= 5 && dark[at + x - 1] && Module(runs) is { } across)
            {
                var middle = x - runs[4] - runs[3] - (runs[2] / 2.0);
                if (Crossing(dark, width, height, (int)middle, y, 0, 1, across) is { } down
                    && Crossing(dark, width, height, (int)middle, (int)down.Middle, 1, 0, across) is { } again)
                {
                    yield return new FinderMark(again.Middle, down.Middle, (down.Module + again.Module) / 2, 1);
                }
            }
        }
    }

    /// <summary>The pattern along a line through its middle.</summary>
    private static (double Middle, double Module)? Crossing(bool[] dark, int width, int height, int x, int y, int dx, int dy, double module)
    {
        var runs = new int[5];
        bool? At(int i)
        {
            var (px, py) = (x + (i * dx), y + (i * dy));
            return px >= 0 && py >= 0 && px < width && py < height ? dark[(py * width) + px] : null;
        }

        if (At(0) != true)
        {
            return null;
        }

        var most = (int)(5 * module) + 3;
        var (before, after) = (0, 0);
        while (At(before - 1) == true && before > -most)
        {
            before--;
        }

        while (At(after + 1) == true && after < most)
        {
            after++;
        }

        runs[2] = after - before + 1;
        var (low, high) = (before, after);
        foreach (var (index, want) in new[] { (1, false), (0, true) })
        {
            while (At(low - 1) == want && runs[index] < most)
            {
                low--;
                runs[index]++;
            }
        }

        foreach (var (index, want) in new[] { (3, false), (4, true) })
        {
            while (At(high + 1) == want && runs[index] < most)
            {
                high++;
                runs[index]++;
            }
        }

        var start = dx == 1 ? x : y;
        return Module(runs) is { } own && own < 1.8 * module && module < 1.8 * own ? (start + ((before + after + 1) / 2.0), own) : null;
    }

    /// <summary>Module in pixels where five runs are in 1:1:3:1:1, with room for blur; null where they are not.</summary>
    private static double? Module(int[] runs)
    {
        var total = runs[0] + runs[1] + runs[2] + runs[3] + runs[4];
        if (total < 9 || runs.Contains(0))
        {
            return null;
        }

        var module = total / 7.0;
        var room = Math.Max(0.75 * module, 1);
        return Math.Abs(runs[0] - module) < room && Math.Abs(runs[1] - module) < room && Math.Abs(runs[2] - (3 * module)) < 2 * room
            && Math.Abs(runs[3] - module) < room && Math.Abs(runs[4] - module) < room ? module : null;
    }
}
