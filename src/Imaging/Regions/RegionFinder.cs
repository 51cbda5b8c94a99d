using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>Divides a surface into touching materials and what does not touch, from dabs and traced zones.</summary>
/// <remarks>
/// Two questions are kept apart: does a place touch, and of what material is it. Each dab becomes the mean place of its pixels in the space that the network
/// lays out for that question; a pixel is the likelier of a kind the nearer it lies to one of its dabs there. Traced zones settle the material outright,
/// and who traces a material has traced all of it: outside its zones it is not looked for, unless a dab of it lies there or no other material was dabbed.
/// Each dab is also asked with itself left out: what that changes, and how badly it is then taken, goes into the doubts.
/// </remarks>
public static class RegionFinder
{
    /// <summary>Log evidence of a material that nobody has dabbed: places farther from every dab than this are of none of them.</summary>
    private const float Unlike = -9;

    private const float Never = -30;

    /// <param name="dabs">In photograph pixels.</param>
    /// <param name="zones">In photograph pixels; where zones overlap, the smaller one lies on top.</param>
    /// <param name="outline">The traced edge of the surface in photograph pixels; empty where it was found and not traced.</param>
    /// <param name="clickSigmaPx">Standard uncertainty of a traced corner in photograph pixels.</param>
    public static RegionMap Find(SurfacePicture surface, ImmutableArray<Dab> dabs, ImmutableArray<Zone> zones, ImmutableArray<PixelPoint> outline, double clickSigmaPx) =>
        Find(surface, dabs, zones, outline, clickSigmaPx, new SeenContact());

    /// <summary>The same with the contact taken from elsewhere, such as a print.</summary>
    /// <param name="logOddsOfContact">Log odds of touching at a place of the photograph.</param>
    public static RegionMap Find(SurfacePicture surface, ImmutableArray<Dab> dabs, ImmutableArray<Zone> zones, ImmutableArray<PixelPoint> outline, double clickSigmaPx, Func<PixelPoint, double> logOddsOfContact) =>
        Find(surface, dabs, zones, outline, clickSigmaPx, new GivenContact(logOddsOfContact));

    private static RegionMap Find(SurfacePicture surface, ImmutableArray<Dab> dabs, ImmutableArray<Zone> zones, ImmutableArray<PixelPoint> outline, double clickSigmaPx, ContactSource source)
    {
        ArgumentNullException.ThrowIfNull(surface);
        var strokes = dabs
            .Select(d => new Stroke(d.Label, [.. Raster.Stroke([.. d.Path.Select(surface.Frame.ToWorking)], d.RadiusPx / surface.Frame.Step, surface.Width, surface.Height).Where(p => surface.Inside[p])]))
            .Where(s => s.Pixels.Length > 0)
            .ToArray();
        var traced = Trace(surface, zones);
        var labels = strokes.Select(s => s.Label).Concat(zones.Select(z => z.Label)).Where(l => l != Dab.NotTouching).Distinct().Order().ToImmutableArray();
        var touch = strokes.Where(s => s.Label != Dab.NotTouching).ToArray();
        var clear = strokes.Where(s => s.Label == Dab.NotTouching).ToArray();
        if (touch.Length == 0 && clear.Length > 0)
        {
            touch = SureOf(surface, traced);
        }

        if (source is GivenContact)
        {
            (touch, clear) = ([], []);
        }

        var contactSpace = new ContactJudge(surface, [.. touch, .. clear]);
        var complete = CompleteZones(strokes, zones, traced);
        var materialSpace = new DabSpace(surface.MaterialSpace, [.. strokes.Where(s => s.Label != Dab.NotTouching)], complete);
        var contact = new Plane(surface.Width, surface.Height);
        var material = Enumerable.Range(0, labels.Length + 1).Select(_ => new Plane(surface.Width, surface.Height)).ToArray();
        Parallel.For(0, surface.Height, y =>
        {
            Span<float> q = stackalloc float[material.Length];
            for (var i = y * surface.Width; i < (y + 1) * surface.Width; i++)
            {
                contact.Values[i] = source is GivenContact given
                    ? (float)given.LogOdds(surface.Frame.ToPhoto(new PixelPoint((i % surface.Width) + 0.5, y + 0.5)))
                    : ContactAt(surface, contactSpace, traced, i, -1);
                MaterialAt(materialSpace, labels, traced, i, -1, q);
                for (var k = 0; k < q.Length; k++)
                {
                    material[k].Values[i] = q[k];
                }
            }
        });
        var (trials, contactMisfit, labelMisfit) = LeaveOneOut(surface, contactSpace, materialSpace, traced, labels, contact, material, touch.Length > 0 && strokes.Any(s => s.Label != Dab.NotTouching) ? touch.Length : 0, source);
        return new RegionMap(surface, labels, contact, material, trials, Lines(zones, outline, clickSigmaPx), contactMisfit, labelMisfit);
    }

    private abstract record ContactSource;

    private sealed record SeenContact : ContactSource;

    private sealed record GivenContact(Func<PixelPoint, double> LogOdds) : ContactSource;

    private readonly record struct Stroke(byte Label, int[] Pixels);

    /// <summary>What traced zones say of each pixel.</summary>
    private readonly record struct Tracing(byte[] Label, bool[] Touching, bool[] Clear);

    private static Tracing Trace(SurfacePicture surface, ImmutableArray<Zone> zones)
    {
        var count = surface.Inside.Length;
        var traced = new Tracing(new byte[count], new bool[count], new bool[count]);
        foreach (var (zone, fill) in zones
            .Select(z => (Zone: z, Fill: Raster.Fill([.. z.Polygon.Select(surface.Frame.ToWorking)], surface.Width, surface.Height)))
            .OrderByDescending(z => z.Fill.Count(f => f)))
        {
            for (var i = 0; i < count; i++)
            {
                if (fill[i])
                {
                    traced.Label[i] = zone.Label == Dab.NotTouching ? traced.Label[i] : zone.Label;
                    traced.Clear[i] = zone.Label == Dab.NotTouching;
                    traced.Touching[i] = zone.Label != Dab.NotTouching && zone.Touching;
                }
            }
        }

        CloseSlivers(surface, traced.Label);
        return traced;
    }

    /// <summary>Materials that are where their zones are and nowhere else.</summary>
    private static ImmutableHashSet<byte> CompleteZones(Stroke[] strokes, ImmutableArray<Zone> zones, Tracing traced)
    {
        var complete = zones.Select(z => z.Label)
            .Where(l => l != Dab.NotTouching && !strokes.Any(s => s.Label == l && s.Pixels.Count(p => traced.Label[p] == 0) > s.Pixels.Length / 2))
            .ToImmutableHashSet();
        return strokes.Any(s => s.Label != Dab.NotTouching && !complete.Contains(s.Label)) ? complete : [];
    }

    /// <summary>Clicked neighbours leave slivers between them: a pixel within a millimetre of a zone, and of no zone itself, goes to it.</summary>
    private static void CloseSlivers(SurfacePicture surface, byte[] label)
    {
        if (label.All(l => l == 0))
        {
            return;
        }

        var reach = Math.Max(1, (int)Math.Round(surface.PixelsPerMm));
        for (var pass = 0; pass < reach; pass++)
        {
            var before = (byte[])label.Clone();
            for (var y = 1; y < surface.Height - 1; y++)
            {
                for (var x = 1; x < surface.Width - 1; x++)
                {
                    var i = (y * surface.Width) + x;
                    if (before[i] == 0 && surface.Inside[i])
                    {
                        label[i] = Math.Max(Math.Max(before[i - 1], before[i + 1]), Math.Max(before[i - surface.Width], before[i + surface.Width]));
                    }
                }
            }
        }
    }

    /// <summary>Zones without dabs: what the network is surest of in each stands for a dab.</summary>
    private static Stroke[] SureOf(SurfacePicture surface, Tracing traced) =>
        [.. traced.Label.Distinct().Order()
            .Select(label => Enumerable.Range(0, traced.Label.Length).Where(i => surface.Inside[i] && traced.Label[i] == label && !traced.Clear[i]).OrderByDescending(i => surface.Contact.Values[i]).ToArray())
            .Where(zone => zone.Length > 50)
            .Select(zone => new Stroke(1, zone[..(zone.Length / 3)]))];

    private static float ContactAt(SurfacePicture surface, ContactJudge judge, Tracing traced, int pixel, int without)
    {
        if (traced.Clear[pixel])
        {
            return Never;
        }

        if (traced.Touching[pixel])
        {
            return -Never;
        }

        return surface.Contact.Values[pixel] + judge.LogOdds(pixel, without);
    }

    private static void MaterialAt(DabSpace space, ImmutableArray<byte> labels, Tracing traced, int pixel, int without, Span<float> q)
    {
        if (traced.Label[pixel] != 0)
        {
            for (var k = 0; k < q.Length; k++)
            {
                q[k] = k < labels.Length && labels[k] == traced.Label[pixel] ? 1 : 0;
            }

            return;
        }

        var most = Unlike;
        for (var k = 0; k < labels.Length; k++)
        {
            var e = space.OnlyInZones.Contains(labels[k]) ? Never : space.Evidence(pixel, labels[k], without);
            q[k] = float.IsNaN(e) ? Never : e;
            most = Math.Max(most, q[k]);
        }

        q[^1] = Unlike;
        float sum = 0;
        for (var k = 0; k < q.Length; k++)
        {
            q[k] = MathF.Exp(q[k] - most);
            sum += q[k];
        }

        for (var k = 0; k < q.Length; k++)
        {
            q[k] /= sum;
        }
    }

    private static (ImmutableArray<RegionTrial> Trials, double ContactMisfit, double LabelMisfit) LeaveOneOut(
        SurfacePicture surface, ContactJudge judge, DabSpace materialSpace, Tracing traced, ImmutableArray<byte> labels, Plane contact, Plane[] material, int touchDabs, ContactSource source)
    {
        const int stride = 3;
        var pixels = new List<int>();
        for (var y = 1; y < surface.Height; y += stride)
        {
            for (var x = 1; x < surface.Width; x += stride)
            {
                if (surface.Inside[(y * surface.Width) + x])
                {
                    pixels.Add((y * surface.Width) + x);
                }
            }
        }

        var parts = labels.Length + 1;
        var whole = pixels.Sum(i => Sigmoid(contact.Values[i]));
        var trials = new List<RegionTrial>();
        double misfit = 0, labelMisfit = 0;
        int asked = 0, labelAsked = 0;
        var own = Enumerable.Range(0, judge.Space.Count).Where(d => touchDabs > 0 || !judge.Space.Touches(d)).ToArray();
        Span<float> q = stackalloc float[parts];
        foreach (var d in own)
        {
            var change = new double[parts];
            foreach (var i in pixels)
            {
                var difference = Sigmoid(ContactAt(surface, judge, traced, i, d)) - Sigmoid(contact.Values[i]);
                for (var k = 0; k < parts; k++)
                {
                    change[k] += difference * material[k].Values[i];
                }
            }

            trials.Add(new RegionTrial(DoubtKind.Contact, Jackknifed(change, whole, own.Length)));
            var touching = judge.Space.Touches(d);
            misfit += judge.Space.Pixels(d).Average(i =>
            {
                var p = Sigmoid(ContactAt(surface, judge, traced, i, d));
                return touching ? 1 - p : p;
            });
            asked++;
        }

        for (var d = 0; d < materialSpace.Count; d++)
        {
            if (!materialSpace.HasFellow(d))
            {
                continue;
            }

            var change = new double[parts];
            foreach (var i in pixels)
            {
                MaterialAt(materialSpace, labels, traced, i, d, q);
                for (var k = 0; k < parts; k++)
                {
                    change[k] += Sigmoid(contact.Values[i]) * (q[k] - material[k].Values[i]);
                }
            }

            trials.Add(new RegionTrial(DoubtKind.Label, Jackknifed(change, whole, materialSpace.Count)));
            var at = labels.IndexOf(materialSpace.Label(d));
            double wrong = 0;
            foreach (var i in materialSpace.Pixels(d))
            {
                MaterialAt(materialSpace, labels, traced, i, d, q);
                wrong += 1 - q[at];
            }

            labelMisfit += wrong / materialSpace.Pixels(d).Length;
            labelAsked++;
        }

        return ([.. trials], asked == 0 ? (source is GivenContact ? 0 : 0.5) : misfit / asked, labelAsked == 0 ? 0 : labelMisfit / labelAsked);
    }

    /// <summary>Jackknife: the sum of squares over the n trials is (n - 1) / n times that of the changes (Efron 1982).</summary>
    private static ImmutableArray<double> Jackknifed(double[] change, double whole, int trials) =>
        [.. change.Select(c => c / Math.Max(1e-9, whole) * Math.Sqrt((trials - 1.0) / trials))];

    private static ImmutableArray<TracedLine> Lines(ImmutableArray<Zone> zones, ImmutableArray<PixelPoint> outline, double sigma) =>
        sigma <= 0
            ? []
            : [.. zones.Select(z => (z.Label, z.Polygon)).Append(((byte)0, outline)).SelectMany(l => l.Item2.Select((p, i) =>
                new TracedLine(l.Item1, l.Item2[(i + l.Item2.Length - 1) % l.Item2.Length], p, l.Item2[(i + 1) % l.Item2.Length], sigma)))];

    private static double Sigmoid(double v) => 1 / (1 + Math.Exp(-v));

    /// <summary>
    /// What the dabs say of contact: nearness in the contact space, and a linear discriminant of relief (contrast to the surroundings, grain, narrow dark and
    /// bright structures, height from shade) that the dabs of the picture teach.
    /// </summary>
    private sealed class ContactJudge
    {
        /// <summary>The discriminant counts for less than it says, since the pixels of a dab are no independent witnesses.</summary>
        private const float Weight = 0.3f;

        private readonly Plane[] _relief;
        private readonly Discriminant?[] _byLeftOut;

        public ContactJudge(SurfacePicture surface, Stroke[] strokes)
        {
            Space = new DabSpace(surface.ContactSpace, strokes);
            _relief = surface.Relief;
            var spread = _relief.Select(p => Spread(p, surface.Inside)).ToArray();
            _byLeftOut = [.. Enumerable.Range(-1, strokes.Length + 1).Select(without =>
            {
                var used = strokes.Where((_, d) => d != without).ToArray();
                return used.Any(s => s.Label == Dab.NotTouching) && used.Any(s => s.Label != Dab.NotTouching)
                    ? Discriminant.Of(_relief, [.. used.SelectMany(s => Thinned(s.Pixels).Select(p => (p, s.Label == Dab.NotTouching ? 0 : 1, 1f / s.Pixels.Length)))], spread, [0.3, 0.7], 0.4)
                    : null;
            })];
        }

        public DabSpace Space { get; }

        /// <param name="without">A dab to leave out; none below zero.</param>
        public float LogOdds(int pixel, int without)
        {
            var touching = Space.Evidence(pixel, true, without);
            var open = Space.Evidence(pixel, false, without);
            var near = float.IsNaN(touching) || float.IsNaN(open) ? 0 : touching - open;
            return near + (_byLeftOut[without + 1] is { } discriminant ? Weight * Math.Clamp(discriminant.LogOdds(_relief, pixel), -20, 20) : 0);
        }

        /// <summary>A few hundred pixels say as much as all of a large stroke.</summary>
        private static IEnumerable<int> Thinned(int[] pixels)
        {
            var every = Math.Max(1, pixels.Length / 400);
            return pixels.Where((_, i) => i % every == 0);
        }

        private static double Spread(Plane plane, bool[] inside)
        {
            double sum = 0, squares = 0;
            var count = 0;
            for (var i = 0; i < inside.Length; i += 3)
            {
                if (inside[i])
                {
                    sum += plane.Values[i];
                    squares += plane.Values[i] * plane.Values[i];
                    count++;
                }
            }

            var mean = sum / Math.Max(1, count);
            return Math.Sqrt(Math.Max(1e-8, (squares / Math.Max(1, count)) - (mean * mean)));
        }
    }

    /// <summary>Squared distances of every pixel to every dab in one space.</summary>
    private sealed class DabSpace
    {
        private readonly Stroke[] _strokes;
        private readonly float[][] _squares;

        /// <param name="onlyInZones">Materials that no pixel outside a zone is of.</param>
        public DabSpace(Plane[] space, Stroke[] strokes, ImmutableHashSet<byte>? onlyInZones = null)
        {
            OnlyInZones = onlyInZones ?? [];
            _strokes = strokes;
            _squares = new float[strokes.Length][];
            Parallel.For(0, strokes.Length, d =>
            {
                var squares = new float[space[0].Values.Length];
                foreach (var plane in space)
                {
                    double sum = 0;
                    foreach (var p in strokes[d].Pixels)
                    {
                        sum += plane.Values[p];
                    }

                    var mean = (float)(sum / strokes[d].Pixels.Length);
                    for (var i = 0; i < squares.Length; i++)
                    {
                        var away = plane.Values[i] - mean;
                        squares[i] += away * away;
                    }
                }

                _squares[d] = squares;
            });
        }

        public ImmutableHashSet<byte> OnlyInZones { get; }

        public int Count => _strokes.Length;

        public int[] Pixels(int dab) => _strokes[dab].Pixels;

        public byte Label(int dab) => _strokes[dab].Label;

        public bool Touches(int dab) => _strokes[dab].Label != Dab.NotTouching;

        public bool HasFellow(int dab) => _strokes.Count(s => s.Label == _strokes[dab].Label) > 1;

        /// <summary>Logarithm of the mean over the dabs of a kind of exp(-squared distance); not a number where there are none.</summary>
        public float Evidence(int pixel, bool touches, int without)
        {
            float least = float.MaxValue, sum = 0;
            var count = 0;
            for (var pass = 0; pass < 2; pass++)
            {
                for (var d = 0; d < _strokes.Length; d++)
                {
                    if (d == without || Touches(d) != touches)
                    {
                        continue;
                    }

                    if (pass == 0)
                    {
                        least = Math.Min(least, _squares[d][pixel]);
                        count++;
                    }
                    else
                    {
                        sum += MathF.Exp(least - _squares[d][pixel]);
                    }
                }
            }

            return count == 0 ? float.NaN : MathF.Log(sum / count) - least;
        }

        public float Evidence(int pixel, byte label, int without)
        {
            float least = float.MaxValue, sum = 0;
            var count = 0;
            for (var pass = 0; pass < 2; pass++)
            {
                for (var d = 0; d < _strokes.Length; d++)
                {
                    if (d == without || _strokes[d].Label != label)
                    {
                        continue;
                    }

                    if (pass == 0)
                    {
                        least = Math.Min(least, _squares[d][pixel]);
                        count++;
                    }
                    else
                    {
                        sum += MathF.Exp(least - _squares[d][pixel]);
                    }
                }
            }

            return count == 0 ? float.NaN : MathF.Log(sum / count) - least;
        }
    }
}
