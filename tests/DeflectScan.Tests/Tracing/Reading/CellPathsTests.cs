using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>Likeliest ways over cells: against every way there is on a small map, and against Bellman and Ford's relaxation (from memory) on a larger one.</summary>
public class CellPathsTests
{
    [Fact]
    public void On_a_small_map_no_way_is_cheaper()
    {
        for (int seed = 0; seed < 20; seed++)
        {
            ReadingMap map = Random(seed, 3, 4);
            CellPaths.From from = new CellPaths(map, 3, 4).Start((0, 0));
            double[] least = Every(map, (0, 0));
            for (int cell = 0; cell < 12; cell++)
            {
                (int Row, int Column)[] way = [.. from.To((cell / 4, cell % 4))];
                Assert.Equal((0, 0), way[0]);
                Assert.Equal((cell / 4, cell % 4), way[^1]);
                Assert.Equal(least[cell], Cost(map, way), 1e-9);
            }

            Assert.Equal(FarthestOf(map, least), from.Farthest());
        }
    }

    [Fact]
    public void On_a_larger_map_whose_border_does_not_count_no_way_is_cheaper()
    {
        ReadingMap map = Random(5, 24, 32);
        (int rows, int columns) = (21, 30);
        CellPaths.From from = new CellPaths(map, rows, columns).Start((20, 3));
        double[,] least = Relaxed(map, rows, columns, (20, 3));
        for (int r = 0; r < rows; r++)
        {
            for (int c = 0; c < columns; c++)
            {
                (int Row, int Column)[] way = [.. from.To((r, c))];
                Assert.All(way, w => Assert.True(w.Row < rows && w.Column < columns));
                Assert.Equal(least[r, c], Cost(map, way), 1e-9);
            }
        }
    }

    /// <summary>A blank hidden for some cells: the way goes straight on over them.</summary>
    [Fact]
    public void A_hidden_stretch_is_crossed()
    {
        float[] values = new float[9 * 40];
        Array.Fill(values, -20f);
        for (int c = 0; c < 40; c++)
            values[(4 * 40) + c] = c is >= 15 and < 20 ? -20 : 5;
        ReadingMap map = new(values, 9, 40);
        CellPaths.From from = new CellPaths(map, 9, 40).Start((4, 0));
        Assert.Equal((4, 39), from.Farthest());
        Assert.Equal(Enumerable.Range(0, 40).Select(c => (4, c)), from.To((4, 39)));
    }

    [Theory]
    [InlineData(0, 0.5)]
    [InlineData(2, 0.880797)]
    [InlineData(-2, 0.119203)]
    public void Log_odds_become_the_logarithm_of_their_probability(float logOdds, double probability) =>
        Assert.Equal(Math.Log(probability), CellPaths.LogProbability(logOdds), 1e-5);

    [Fact]
    public void No_cell_costs_more_than_the_most() => Assert.Equal(-4, CellPaths.LogProbability(-40));

    private static ReadingMap Random(int seed, int rows, int columns)
    {
        Random random = new(seed);
        return new ReadingMap([.. Enumerable.Range(0, rows * columns).Select(_ => (float)((12 * random.NextDouble()) - 7))], rows, columns);
    }

    private static double Step(ReadingMap map, int row, int column, int r2, int c2) =>
        Math.Sqrt(((row - r2) * (row - r2)) + ((column - c2) * (column - c2))) * (0.05 + Math.Min(4, Math.Log(1 + Math.Exp(-map[r2, c2]))));

    private static double Cost(ReadingMap map, (int Row, int Column)[] way) => way.Zip(way.Skip(1)).Sum(s =>
    {
        Assert.InRange(Math.Max(Math.Abs(s.First.Row - s.Second.Row), Math.Abs(s.First.Column - s.Second.Column)), 1, 1);
        return Step(map, s.First.Row, s.First.Column, s.Second.Row, s.Second.Column);
    });

    private static double[] Every(ReadingMap map, (int Row, int Column) start)
    {
        double[] least = new double[map.Rows * map.Columns];
        Array.Fill(least, double.MaxValue);
        bool[] used = new bool[least.Length];
        Walk(start.Row, start.Column, 0);
        return least;

        void Walk(int row, int column, double cost)
        {
            int at = (row * map.Columns) + column;
            least[at] = Math.Min(least[at], cost);
            used[at] = true;
            for (int r = Math.Max(0, row - 1); r <= Math.Min(map.Rows - 1, row + 1); r++)
            {
                for (int c = Math.Max(0, column - 1); c <= Math.Min(map.Columns - 1, column + 1); c++)
                {
                    if (!used[(r * map.Columns) + c])
                        Walk(r, c, cost + Step(map, row, column, r, c));
                }
            }

            used[at] = false;
        }
    }

    private static double[,] Relaxed(ReadingMap map, int rows, int columns, (int Row, int Column) start)
    {
        double[,] least = new double[rows, columns];
        for (int i = 0; i < rows * columns; i++)
            least[i / columns, i % columns] = double.MaxValue;
        least[start.Row, start.Column] = 0;
        for (bool changed = true; changed;)
        {
            changed = false;
            for (int i = 0; i < rows * columns * 9; i++)
            {
                (int row, int column) = (i / 9 / columns, i / 9 % columns);
                (int r, int c) = (row + (i % 9 / 3) - 1, column + (i % 3) - 1);
                if (i % 9 == 4 || r < 0 || c < 0 || r >= rows || c >= columns || least[row, column] == double.MaxValue)
                    continue;
                double sum = least[row, column] + Step(map, row, column, r, c);
                if (sum < least[r, c] - 1e-12)
                    (least[r, c], changed) = (sum, true);
            }
        }

        return least;
    }

    private static (int Row, int Column) FarthestOf(ReadingMap map, double[] least)
    {
        int[] likely = [.. Enumerable.Range(0, least.Length).Where(i => map.Values[i] > 0).OrderByDescending(i => least[i])];
        return likely.Length == 0 ? (0, 0) : (likely[0] / map.Columns, likely[0] % map.Columns);
    }
}
