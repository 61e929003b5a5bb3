using DeflectScan.Geometry;
using DeflectScan.Layout.Suggesting;

namespace DeflectScan.Reporting.Drawing;

/// <summary>A label that wants a place.</summary>
/// <param name="Anchor">The point that it speaks of, px.</param>
/// <param name="Outward">Unit vector of the side where it should stand.</param>
/// <param name="Width">Px.</param>
/// <param name="Height">Px.</param>
/// <param name="Least">Least distance from the anchor to the label's edge, px.</param>
internal sealed record LabelRequest(Vec2 Anchor, Vec2 Outward, double Width, double Height, double Least);

/// <summary>Where labels were placed, and how badly off the worst of them is: under about 20 all stand well, over 1000 some are crossed.</summary>
internal sealed record Arrangement(IReadOnlyList<Box> Boxes, double WorstCost);

/// <summary>
/// Finds places for labels: pushed out along the normal, turned aside or farther out where something is in the way, so that no label
/// covers another, the rod or the line, and no leader crosses another or a label. Each label's places are listed with their cost;
/// simulated annealing (Kirkpatrick 1983; for map labels Christensen, Marks, Shieber 1995) with a fixed seed picks one each: deterministic.
/// </summary>
/// <param name="frame">Labels stay inside.</param>
/// <param name="unitPx">Px of one unit of drawing.</param>
internal sealed class LabelPlacer(Box frame, double unitPx)
{
    private const double Blocked = 1e4;
    private const double Crossed = 1.5e3;
    private const int KeptPlaces = 320;
    private const double Hot = 80;
    private const double Cold = 0.5;
    private static readonly double[] TurnsDegrees = [0, 8, -8, 16, -16, 25, -25, 35, -35, 46, -46, 58, -58, 72, -72];
    private readonly List<(Vec2 A, Vec2 B, double Radius)> _obstacles = [];
    private readonly List<Place> _fixed = [];

    /// <summary>Nothing may cover this polyline, nor come nearer than <paramref name="radius"/> px.</summary>
    public void KeepClear(IReadOnlyList<Vec2> polyline, double radius)
    {
        int from = 0;
        for (int i = 1; i < polyline.Count; i++)
        {
            if (i < polyline.Count - 1 && polyline[i].DistanceTo(polyline[from]) < 9 * unitPx)
                continue;
            _obstacles.Add((polyline[from], polyline[i], radius));
            from = i;
        }
    }

    public void KeepClear(Vec2 centre, double radius) => _obstacles.Add((centre, centre, radius));

    /// <summary>Places all labels of a group; labels kept from earlier groups stay where they are.</summary>
    public Arrangement Arrange(IReadOnlyList<LabelRequest> requests)
    {
        if (requests.Count == 0)
            return new Arrangement([], 0);
        Place[][] places = [.. requests.Select(Places)];
        int[] chosen = new int[requests.Count];
        Random random = new(1);
        int steps = 1200 + (requests.Count * 600);
        for (int step = 0; step < steps; step++)
        {
            double heat = Hot * Math.Pow(Cold / Hot, (double)step / steps);
            int i = random.Next(requests.Count);
            double pick = random.NextDouble();
            int trial = (int)(pick * pick * places[i].Length);
            double rise = Total(places, chosen, i, trial) - Total(places, chosen, i, chosen[i]);
            if (rise <= 0 || random.NextDouble() < Math.Exp(-rise / heat))
                chosen[i] = trial;
        }

        for (bool moved = true; moved;)
        {
            moved = false;
            for (int i = 0; i < chosen.Length; i++)
            {
                int best = Best(places, chosen, i);
                moved |= best != chosen[i];
                chosen[i] = best;
            }
        }

        double worst = Enumerable.Range(0, chosen.Length).Max(i => Total(places, chosen, i, chosen[i]));
        return new Arrangement([.. chosen.Select((c, i) => places[i][c].Box)], worst);
    }

    /// <summary>Makes later groups keep clear of these labels and their leaders.</summary>
    public void Keep(Arrangement arrangement, IReadOnlyList<LabelRequest> requests) =>
        _fixed.AddRange(arrangement.Boxes.Select((b, i) => new Place(b, requests[i].Anchor, b.Entry(requests[i].Anchor), 0)));

    /// <summary>The places worth trying for a label, cheapest first.</summary>
    private Place[] Places(LabelRequest request)
    {
        List<Place> all = [];
        double reach = Math.Max(frame.Width, frame.Height) * 0.4;
        for (double d = request.Least; d < reach; d += Math.Max(4 * unitPx, d * 0.07))
        {
            foreach (double turn in TurnsDegrees)
            {
                (double sin, double cos) = Math.SinCos(turn * Math.PI / 180);
                Vec2 u = new((request.Outward.X * cos) - (request.Outward.Y * sin), (request.Outward.X * sin) + (request.Outward.Y * cos));
                double half = Math.Min(
                    Math.Abs(u.X) < 1e-9 ? double.MaxValue : request.Width / 2 / Math.Abs(u.X),
                    Math.Abs(u.Y) < 1e-9 ? double.MaxValue : request.Height / 2 / Math.Abs(u.Y));
                Box box = new(request.Anchor + (u * (d + half)), request.Width, request.Height);
                double far = (d - request.Least) / unitPx;
                double cost = (0.5 * far) + (far * far / 160) + (Math.Abs(turn) * 0.35) + (turn * turn / 250);
                cost += box.Outside(frame) is var beyond and > 0 ? Blocked * (1 + beyond) : 0;
                foreach ((Vec2 a, Vec2 b, double radius) in _obstacles)
                    cost += box.Grown(radius).Meets(a, b) ? Blocked : 0;
                Place place = new(box, request.Anchor, box.Entry(request.Anchor), cost);
                all.Add(place with { Cost = cost + _fixed.Sum(f => Conflict(place, f)) });
            }
        }

        return [.. all.OrderBy(p => p.Cost).Take(KeptPlaces)];
    }

    private int Best(Place[][] places, int[] chosen, int i)
    {
        int best = chosen[i];
        double least = Total(places, chosen, i, best);
        for (int c = 0; c < places[i].Length && places[i][c].Cost < least; c++)
        {
            double cost = Total(places, chosen, i, c);
            if (cost < least)
                (best, least) = (c, cost);
        }

        return best;
    }

    private double Total(Place[][] places, int[] chosen, int i, int candidate)
    {
        ref Place place = ref places[i][candidate];
        double cost = place.Cost;
        for (int j = 0; j < chosen.Length; j++)
        {
            if (j != i)
                cost += Conflict(place, places[j][chosen[j]]);
        }

        return cost;
    }

    private double Conflict(in Place a, in Place b)
    {
        double apart = 5 * unitPx;
        if (a.Left > b.Right + apart || b.Left > a.Right + apart || a.Top > b.Bottom + apart || b.Top > a.Bottom + apart)
            return 0;
        Box wide = a.Box.Grown(apart);
        double cost = wide.Overlaps(b.Box) ? Blocked : 0;
        if (wide.Meets(b.Anchor, b.End) || b.Box.Grown(apart).Meets(a.Anchor, a.End))
            cost += Crossed;
        return Cross(a.Anchor, a.End, b.Anchor, b.End) ? cost + Crossed : cost;
    }

    private static bool Cross(Vec2 a, Vec2 b, Vec2 c, Vec2 d) =>
        (b - a).Cross(c - a) * (b - a).Cross(d - a) < 0 && (d - c).Cross(a - c) * (d - c).Cross(b - c) < 0;

    /// <summary>A label at a place with its leader, what it costs by itself, and the extent of both.</summary>
    private readonly record struct Place(Box Box, Vec2 Anchor, Vec2 End, double Cost)
    {
        public double Left { get; } = Math.Min(Box.Left, Anchor.X);

        public double Right { get; } = Math.Max(Box.Right, Anchor.X);

        public double Top { get; } = Math.Min(Box.Top, Anchor.Y);

        public double Bottom { get; } = Math.Max(Box.Bottom, Anchor.Y);
    }
}
