using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Blank;

/// <summary>Joins crest points into smooth open links, strongest first; a sharp turn or a missing pixel ends a link.</summary>
internal sealed class RidgeLinker
{
    private const float LargestStepTurn = 0.5f; // rad, between a crest's own direction and the link's heading
    private const float LargestSidestep = 1.2f; // px
    private const int DirectionMemory = 8; // points that say where the link is heading
    private const float SeedShare = 1.4f; // of the least contrast: weaker points join a link but do not start one

    private readonly RidgePoints _points;
    private readonly BarField _field;
    private readonly bool[] _used;

    private RidgeLinker(RidgePoints points, BarField field)
    {
        _points = points;
        _field = field;
        _used = new bool[points.Crests.Length];
    }

    /// <summary>Links in search px, each at least <paramref name="shortest"/> points long.</summary>
    public static List<Vec2[]> Link(BarField field, double leastContrast, int shortest)
    {
        RidgePoints points = RidgePoints.Of(field);
        RidgeLinker linker = new(points, field);
        float least = SeedShare * (float)leastContrast;
        int[] order = [.. Enumerable.Range(0, points.Crests.Length).Where(i => points.Crests[i].Score >= least)];
        float[] keys = [.. order.Select(i => -points.Crests[i].Score)];
        Array.Sort(keys, order);
        List<Vec2[]> links = [];
        List<int> link = [];
        foreach (int seed in order)
        {
            if (linker._used[seed])
                continue;
            linker._used[seed] = true;
            Crest start = points.Crests[seed];
            link.Clear();
            link.Add(seed);
            linker.Extend(link, start.AlongX, start.AlongY);
            link.Reverse();
            linker.Extend(link, -start.AlongX, -start.AlongY);
            if (link.Count >= shortest)
                links.Add([.. link.Select(i => points.Crests[i].Place)]);
        }

        return links;
    }

    private void Extend(List<int> link, float headingX, float headingY)
    {
        while (true)
        {
            int next = Next(link[^1], headingX, headingY);
            if (next < 0)
                return;
            _used[next] = true;
            link.Add(next);
            int back = Math.Max(0, link.Count - 1 - DirectionMemory);
            if (link.Count - 1 - back < 3)
                continue;
            Crest here = _points.Crests[next];
            Crest then = _points.Crests[link[back]];
            float dx = here.X - then.X;
            float dy = here.Y - then.Y;
            float length = MathF.Sqrt((dx * dx) + (dy * dy));
            if (length > 0)
                (headingX, headingY) = (dx / length, dy / length);
        }
    }

    private int Next(int tail, float headingX, float headingY)
    {
        Crest here = _points.Crests[tail];
        int best = -1;
        float bestCost = float.MaxValue;
        for (int y = Math.Max(0, here.Row - 2); y <= Math.Min(_field.Height - 1, here.Row + 2); y++)
        {
            for (int x = Math.Max(0, here.Column - 2); x <= Math.Min(_field.Width - 1, here.Column + 2); x++)
            {
                int i = _points.At(x, y);
                if (i < 0 || _used[i])
                    continue;
                ref readonly Crest c = ref _points.Crests[i];
                float dx = c.X - here.X;
                float dy = c.Y - here.Y;
                float forward = (dx * headingX) + (dy * headingY);
                if (forward < 0.4f)
                    continue;
                float sideways = Math.Abs((headingX * dy) - (headingY * dx));
                float crossed = Math.Abs((headingX * c.AlongY) - (headingY * c.AlongX));
                if (crossed > LargestStepTurn || sideways > LargestSidestep)
                    continue;
                float cost = forward + (2 * sideways) + (2 * crossed) - (0.02f * Math.Min(50, c.Score));
                if (cost < bestCost)
                    (best, bestCost) = (i, cost);
            }
        }

        return best;
    }
}
