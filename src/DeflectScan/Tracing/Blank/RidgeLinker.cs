using DeflectScan.Geometry;

namespace DeflectScan.Tracing.Blank;

/// <summary>Joins crest points into smooth open strokes, strongest first; a sharp turn or a missing pixel ends a stroke.</summary>
internal sealed class RidgeLinker
{
    private const double LargestStepTurn = 0.5; // rad, between a crest's own direction and the step to it
    private const int DirectionMemory = 8; // points that say where the stroke is heading

    private readonly RidgePoints _points;
    private readonly BarField _field;
    private readonly bool[] _used;

    private RidgeLinker(RidgePoints points, BarField field)
    {
        _points = points;
        _field = field;
        _used = new bool[points.Places.Count];
    }

    /// <summary>Strokes in search px, each at least <paramref name="shortest"/> points long.</summary>
    public static List<Vec2[]> Link(BarField field, int shortest)
    {
        RidgePoints points = RidgePoints.Of(field);
        RidgeLinker linker = new(points, field);
        int[] order = [.. Enumerable.Range(0, points.Places.Count)];
        float[] keys = [.. points.Scores.Select(s => -s)];
        Array.Sort(keys, order);
        List<Vec2[]> strokes = [];
        foreach (int seed in order)
        {
            if (linker._used[seed])
                continue;
            linker._used[seed] = true;
            double angle = points.Angles[seed];
            Vec2 along = new(Math.Cos(angle), Math.Sin(angle));
            List<int> stroke = [seed];
            linker.Extend(stroke, along);
            stroke.Reverse();
            linker.Extend(stroke, stroke.Count > 1 ? (points.Places[seed] - points.Places[stroke[0]]).Normalized() : -along);
            if (stroke.Count >= shortest)
                strokes.Add([.. stroke.Select(i => points.Places[i])]);
        }

        return strokes;
    }

    private void Extend(List<int> stroke, Vec2 heading)
    {
        while (true)
        {
            int tail = stroke[^1];
            int next = Next(tail, heading);
            if (next < 0)
                return;
            _used[next] = true;
            stroke.Add(next);
            int back = Math.Max(0, stroke.Count - 1 - DirectionMemory);
            if (stroke.Count - 1 - back >= 3)
                heading = (_points.Places[next] - _points.Places[stroke[back]]).Normalized();
        }
    }

    private int Next(int tail, Vec2 heading)
    {
        Vec2 here = _points.Places[tail];
        int cx = (int)Math.Round(here.X);
        int cy = (int)Math.Round(here.Y);
        int best = -1;
        double bestCost = double.MaxValue;
        for (int dy = -2; dy <= 2; dy++)
        {
            for (int dx = -2; dx <= 2; dx++)
            {
                int x = cx + dx;
                int y = cy + dy;
                if (x < 0 || y < 0 || x >= _field.Width || y >= _field.Height)
                    continue;
                int i = _points.At(x, y);
                if (i < 0 || _used[i])
                    continue;
                Vec2 step = _points.Places[i] - here;
                double forward = step.Dot(heading);
                if (forward < 0.4)
                    continue;
                double sideways = Math.Abs(heading.Cross(step));
                double angle = _points.Angles[i];
                double crossed = Math.Abs((heading.X * Math.Sin(angle)) - (heading.Y * Math.Cos(angle)));
                if (crossed > LargestStepTurn || sideways > 1.2)
                    continue;
                double cost = forward + (2 * sideways) + (2 * crossed) - (0.02 * Math.Min(50, _points.Scores[i]));
                if (cost < bestCost)
                    (best, bestCost) = (i, cost);
            }
        }

        return best;
    }
}
