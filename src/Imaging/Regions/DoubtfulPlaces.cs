using System.Collections.Immutable;

namespace Pairbench.Imaging.Regions;

/// <summary>A place at which a dab would settle much.</summary>
/// <param name="Kind"><see cref="DoubtKind.Contact"/>: whether it touches. <see cref="DoubtKind.Label"/>: of what material it is.</param>
/// <param name="Place">In photograph pixels.</param>
public sealed record DoubtfulPlace(DoubtKind Kind, PixelPoint Place);

/// <summary>
/// Looks for the places at which a dab would settle most: not where one pixel is most in doubt, but where most doubt lies in places alike in the space of the question, which a dab speaks for as well
/// (information density; Settles, Craven 2008).
/// </summary>
internal sealed class DoubtfulPlaces
{
    private const int Most = 3;

    /// <summary>Every so many places at half the size, either way.</summary>
    private const int Stride = 2;

    /// <summary>So many places, those most in doubt, are weighed against each other.</summary>
    private const int Weighed = 120;

    /// <summary>What is less than this part of the touching area is not worth a dab.</summary>
    private const double LeastPart = 0.002;

    /// <summary>Contact itself counts a little where the shares do not hang on it.</summary>
    private const double LeastReach = 0.25;

    /// <summary>A material is asked of what rather touches: to say it there says nothing wrong of contact.</summary>
    private const double Touches = 0.6;

    private readonly RegionMap _map;
    private readonly double _touching;

    private DoubtfulPlaces(RegionMap map, double touching) => (_map, _touching) = (map, touching);

    /// <param name="dabs">Those that are there; nobody is asked twice.</param>
    /// <param name="contactIsGiven">Contact is known from elsewhere and is not asked.</param>
    /// <returns>The place that settles most first; none where a dab would change little.</returns>
    public static ImmutableArray<DoubtfulPlace> Of(RegionMap map, ImmutableArray<Dab> dabs, bool contactIsGiven)
    {
        var surface = map.Surface;
        var asked = new bool[surface.Inside.Length];
        foreach (var p in dabs.SelectMany(d => Raster.Stroke([.. d.Path.Select(surface.Frame.ToWorking)], d.RadiusPx / surface.Frame.Step, surface.Width, surface.Height)))
        {
            asked[p] = true;
        }

        var (contact, label) = Doubts(map);
        var touching = map.Touching.Values.Where((_, i) => surface.Inside[i]).Sum() / (double)(4 * Stride * Stride);
        var places = new DoubtfulPlaces(map, touching);
        return places.Picked([
            .. contactIsGiven ? [] : new[] { places.Of(DoubtKind.Contact, contact, asked, surface.Sight.ContactSpace) },
            places.Of(DoubtKind.Label, label, asked, surface.Sight.MaterialSpace)]);
    }

    /// <summary>How much of the shares hangs on each pixel's contact, and on its material. Along edges some doubt always remains, and no dab settles it: only what is in doubt all around counts.</summary>
    private static (Plane Contact, Plane Label) Doubts(RegionMap map)
    {
        var surface = map.Surface;
        var material = map.Material;
        var shares = new double[material.Length];
        for (var i = 0; i < surface.Inside.Length; i++)
        {
            for (var k = 0; surface.Inside[i] && k < shares.Length; k++)
            {
                shares[k] += map.Touching.Values[i] * material[k].Values[i];
            }
        }

        var total = Math.Max(1e-9, shares.Sum());
        Plane contact = new(surface.Width, surface.Height), label = new(surface.Width, surface.Height);
        for (var i = 0; i < surface.Inside.Length; i++)
        {
            if (!surface.Inside[i])
            {
                continue;
            }

            var p = map.Touching.Values[i];
            double reach = LeastReach, unsure = 0;
            for (var k = 0; k < shares.Length; k++)
            {
                double q = material[k].Values[i];
                reach = Math.Max(reach, Math.Abs(q - (shares[k] / total)));
                unsure = Math.Max(unsure, q * (1 - q));
            }

            contact.Values[i] = (float)(p * (1 - p) * reach);
            label.Values[i] = p > Touches ? (float)(p * unsure) : 0;
        }

        return (contact.Lowest(1), label.Lowest(1));
    }

    /// <summary>Places of one question with their doubt, and where they lie in its space.</summary>
    private Question Of(DoubtKind kind, Plane doubt, bool[] asked, ImmutableArray<Plane> space)
    {
        var sight = _map.Surface.Sight;
        var cells = new List<int>();
        var amounts = new List<double>();
        for (var y = 0; (2 * y) + 1 < doubt.Height; y += Stride)
        {
            for (var x = 0; (2 * x) + 1 < doubt.Width; x += Stride)
            {
                var i = (2 * y * doubt.Width) + (2 * x);
                if (doubt.Values[i] > 0.01 && !asked[i])
                {
                    cells.Add((y * sight.Width) + x);
                    amounts.Add(doubt.Values[i]);
                }
            }
        }

        return new Question(kind, [.. cells], [.. amounts], [.. space.Select(p => cells.Select(c => p.Values[c]).ToArray())]);
    }

    private ImmutableArray<DoubtfulPlace> Picked(Question[] questions)
    {
        var picked = ImmutableArray.CreateBuilder<DoubtfulPlace>();
        while (picked.Count < Most)
        {
            var (question, place, settled) = questions.Select(q => (q, Best: q.Best())).Select(b => (b.q, b.Best.Place, b.Best.Settled)).MaxBy(b => b.Settled);
            if (settled < LeastPart * _touching)
            {
                break;
            }

            int cell = question.Cells[place], width = _map.Surface.Sight.Width;
            picked.Add(new DoubtfulPlace(question.Kind, _map.Surface.Frame.ToPhoto(new PixelPoint((2 * (cell % width)) + 0.5, (2 * (cell / width)) + 0.5))));
            question.Settle(place);
        }

        return picked.ToImmutable();
    }

    /// <param name="Cells">Index in the planes of the sight.</param>
    /// <param name="Amounts">Doubt of each.</param>
    /// <param name="Space">By dimension, where each lies.</param>
    private sealed record Question(DoubtKind Kind, int[] Cells, double[] Amounts, float[][] Space)
    {
        /// <summary>The place that speaks for most doubt, and for how much.</summary>
        public (int Place, double Settled) Best() => Enumerable.Range(0, Cells.Length)
            .OrderByDescending(i => Amounts[i])
            .Take(Weighed)
            .Select(i => (Place: i, Settled: Enumerable.Range(0, Cells.Length).Sum(j => Amounts[j] * Likeness(i, j))))
            .DefaultIfEmpty()
            .MaxBy(b => b.Settled);

        /// <summary>The doubt that a dab at a place leaves.</summary>
        public void Settle(int place)
        {
            for (var j = 0; j < Amounts.Length; j++)
            {
                Amounts[j] *= 1 - Likeness(place, j);
            }
        }

        private double Likeness(int i, int j)
        {
            float square = 0;
            foreach (var dimension in Space)
            {
                var away = dimension[i] - dimension[j];
                square += away * away;
            }

            return Math.Exp(-square);
        }
    }
}
