namespace DeflectScan.Tracing.Reading;

/// <summary>Likeliest ways over the cells of a map: shortest paths (Dijkstra 1959) whose steps cost what is improbable about their cells.</summary>
/// <param name="map">Log-odds that a cell is on the way.</param>
/// <param name="rows">Rows that show the picture.</param>
/// <param name="columns">Columns that show it.</param>
internal sealed class CellPaths(ReadingMap map, int rows, int columns)
{
    /// <summary>A step over a cell that is certain costs this, so that ways do not wander.</summary>
    private const double StepCost = 0.05;

    /// <summary>No cell costs more: a hidden stretch is crossed.</summary>
    private const double MostCost = 4;

    /// <summary>Logarithm of the probability of log-odds, no less than -<see cref="MostCost"/>.</summary>
    public static double LogProbability(float logOdds) => Math.Max(-MostCost, -Math.Log(1 + Math.Exp(-logOdds)));

    /// <summary>All ways from a cell.</summary>
    public From Start((int Row, int Column) cell)
    {
        double[] cost = new double[rows * columns];
        int[] before = new int[rows * columns];
        Array.Fill(cost, double.MaxValue);
        PriorityQueue<int, double> open = new();
        int start = (Math.Min(cell.Row, rows - 1) * columns) + Math.Min(cell.Column, columns - 1);
        (cost[start], before[start]) = (0, -1);
        open.Enqueue(start, 0);
        double[] over = Costs();
        while (open.TryDequeue(out int at, out double so))
        {
            if (so > cost[at])
                continue;
            (int r, int c) = (at / columns, at % columns);
            for (int k = 0; k < 9; k++)
            {
                (int r2, int c2) = (r + (k / 3) - 1, c + (k % 3) - 1);
                if (k == 4 || r2 < 0 || c2 < 0 || r2 >= rows || c2 >= columns)
                    continue;
                int next = (r2 * columns) + c2;
                double step = (k % 2 == 0 ? Math.Sqrt(2) : 1) * over[next];
                if (so + step >= cost[next])
                    continue;
                (cost[next], before[next]) = (so + step, at);
                open.Enqueue(next, so + step);
            }
        }

        return new From(map, columns, cost, before);
    }

    // Of a step over each cell.
    private double[] Costs()
    {
        double[] over = new double[rows * columns];
        for (int i = 0; i < over.Length; i++)
            over[i] = StepCost - LogProbability(map[i / columns, i % columns]);
        return over;
    }

    /// <summary>Ways from one cell to every other.</summary>
    internal sealed class From(ReadingMap map, int columns, double[] cost, int[] before)
    {
        /// <summary>The cells to a cell, from the first one on.</summary>
        public IEnumerable<(int Row, int Column)> To((int Row, int Column) cell)
        {
            Stack<(int, int)> way = new();
            for (int at = (cell.Row * columns) + Math.Min(cell.Column, columns - 1); at >= 0 && at < before.Length; at = before[at])
                way.Push((at / columns, at % columns));
            return way;
        }

        /// <summary>The cell that is more likely on the way than not, to which the way is longest.</summary>
        public (int Row, int Column) Farthest()
        {
            int best = -1;
            for (int i = 0; i < cost.Length; i++)
            {
                if (map[i / columns, i % columns] > 0 && cost[i] < double.MaxValue && (best < 0 || cost[i] > cost[best]))
                    best = i;
            }

            return best < 0 ? (0, 0) : (best / columns, best % columns);
        }
    }
}
