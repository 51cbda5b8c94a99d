using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>Divides a surface into touching materials and what does not touch, from dabs and traced zones.</summary>
/// <remarks>
/// Two questions are kept apart: does a place touch, and of what material is it. Each dab becomes the mean place of its pixels in the space that the network
/// lays out for that question; a place is the likelier of a kind the nearer it lies to one of its dabs there. For either question a second network weighs that with the
/// picture and the dabs themselves. Traced zones settle the material outright,
/// and who traces a material has traced all of it: outside its zones it is not looked for, unless a dab of it lies there or no other material was dabbed.
/// Each dab is also asked with itself left out: what that changes, and how badly it is then taken, goes into the doubts.
/// </remarks>
public static class RegionFinder
{
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
        if (source is GivenContact)
        {
            (touch, clear) = ([], []);
        }

        var complete = CompleteZones(strokes, zones, traced);
        var contactJudge = new ContactJudge(surface, [.. touch, .. clear], ZoneLines.Of(surface, traced.Label));
        var materialJudge = new MaterialJudge(surface, [.. strokes.Where(s => s.Label != Dab.NotTouching && !complete.Contains(s.Label))], labels);
        var contact = source is GivenContact given ? given.Everywhere(surface) : Settled(contactJudge.LogOdds(-1), traced);
        var material = Settled(materialJudge.Shares(-1), surface, labels, traced);
        var onContact = AskContact(surface, contactJudge, traced, contact, material);
        var onMaterial = AskMaterial(surface, materialJudge, traced, labels, contact, material);
        var contactMisfit = source is GivenContact ? 0 : onContact.Misfit ?? 0.5;
        var labelMisfit = onMaterial.Misfit ?? 0;
        ImmutableArray<RegionTrial> trials = [.. onContact.Trials, .. onMaterial.Trials];
        return new RegionMap(surface, labels, contact, material, trials, Lines(zones, outline, clickSigmaPx), contactMisfit, labelMisfit);
    }

    private abstract record ContactSource;

    private sealed record SeenContact : ContactSource;

    private sealed record GivenContact(Func<PixelPoint, double> LogOdds) : ContactSource
    {
        public Plane Everywhere(SurfacePicture surface)
        {
            var contact = new Plane(surface.Width, surface.Height);
            Parallel.For(0, surface.Height, y =>
            {
                for (var x = 0; x < surface.Width; x++)
                {
                    contact.Values[(y * surface.Width) + x] = (float)LogOdds(surface.Frame.ToPhoto(new PixelPoint(x + 0.5, y + 0.5)));
                }
            });
            return contact;
        }
    }

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

    private static float ContactAt(Plane said, Tracing traced, int pixel) =>
        traced.Clear[pixel] ? Never : traced.Touching[pixel] ? -Never : said.Values[pixel];

    /// <summary>What the judge says where no traced zone settles it.</summary>
    private static Plane Settled(Plane said, Tracing traced) =>
        new(said.Width, said.Height, [.. Enumerable.Range(0, said.Values.Length).Select(i => ContactAt(said, traced, i))]);

    private static Plane[] Settled(Plane[] shares, SurfacePicture surface, ImmutableArray<byte> labels, Tracing traced)
    {
        Plane[] settled = [.. shares.Select(_ => new Plane(surface.Width, surface.Height))];
        Parallel.For(0, surface.Height, y =>
        {
            for (var i = y * surface.Width; i < (y + 1) * surface.Width; i++)
            {
                for (var k = 0; k < settled.Length; k++)
                {
                    settled[k].Values[i] = ShareAt(shares, surface, labels, traced, i, k);
                }
            }
        });
        return settled;
    }

    /// <summary>Probability that a pixel is of a label, or of none of them; the shares are at half the size.</summary>
    private static float ShareAt(Plane[] shares, SurfacePicture surface, ImmutableArray<byte> labels, Tracing traced, int pixel, int k)
    {
        if (traced.Label[pixel] != 0)
        {
            return k < labels.Length && labels[k] == traced.Label[pixel] ? 1 : 0;
        }

        int x = pixel % surface.Width, y = pixel / surface.Width;
        return shares[k].Values[(y / 2 * shares[k].Width) + (x / 2)];
    }

    /// <summary>What leaving dabs out changes, and how badly they are then taken.</summary>
    private sealed record Asked(ImmutableArray<RegionTrial> Trials, double? Misfit);

    private static Asked AskContact(SurfacePicture surface, ContactJudge judge, Tracing traced, Plane contact, Plane[] material)
    {
        if (judge.Count == 0)
        {
            return new Asked([], null);
        }

        var pixels = Sampled(surface);
        var whole = pixels.Sum(i => Sigmoid(contact.Values[i]));
        var trials = new RegionTrial[judge.Folds];
        var misfits = new double[judge.Count];
        Parallel.For(0, judge.Folds, fold =>
        {
            var said = judge.LogOdds(fold);
            var change = new double[material.Length];
            foreach (var i in pixels)
            {
                var difference = Sigmoid(ContactAt(said, traced, i)) - Sigmoid(contact.Values[i]);
                for (var k = 0; k < change.Length; k++)
                {
                    change[k] += difference * material[k].Values[i];
                }
            }

            trials[fold] = new RegionTrial(DoubtKind.Contact, Jackknifed(change, whole, judge.Folds));
            for (var d = fold; d < judge.Count; d += judge.Folds)
            {
                var touches = judge[d].Label != Dab.NotTouching;
                misfits[d] = judge[d].Pixels.Average(i => Sigmoid(touches ? -ContactAt(said, traced, i) : ContactAt(said, traced, i)));
            }
        });
        return new Asked([.. trials], misfits.Average());
    }

    private static Asked AskMaterial(SurfacePicture surface, MaterialJudge judge, Tracing traced, ImmutableArray<byte> labels, Plane contact, Plane[] material)
    {
        if (judge.Folds == 0)
        {
            return new Asked([], null);
        }

        var pixels = Sampled(surface);
        var whole = pixels.Sum(i => Sigmoid(contact.Values[i]));
        var trials = new RegionTrial[judge.Folds];
        var wrong = new double[judge.Asked.Length];
        Parallel.For(0, judge.Folds, fold =>
        {
            var shares = judge.Shares(fold);
            var change = new double[material.Length];
            foreach (var i in pixels)
            {
                for (var k = 0; k < change.Length; k++)
                {
                    change[k] += Sigmoid(contact.Values[i]) * (ShareAt(shares, surface, labels, traced, i, k) - material[k].Values[i]);
                }
            }

            trials[fold] = new RegionTrial(DoubtKind.Label, Jackknifed(change, whole, judge.Folds));
            for (var n = 0; n < wrong.Length; n++)
            {
                var stroke = judge[judge.Asked[n]];
                if (judge.FoldOf(judge.Asked[n]) == fold)
                {
                    wrong[n] = stroke.Pixels.Average(i => 1 - ShareAt(shares, surface, labels, traced, i, labels.IndexOf(stroke.Label)));
                }
            }
        });
        return new Asked([.. trials], wrong.Average());
    }

    /// <summary>Every third pixel either way of the surface.</summary>
    private static List<int> Sampled(SurfacePicture surface)
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

        return pixels;
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
}
