namespace DeflectScan.Rooms.Tests;

/// <summary>Groups of which each member reaches every other one by following what uses what (strongly connected components, R. Tarjan 1972).</summary>
internal static class Circles
{
    /// <returns>Each group of two or more, sorted within and among themselves.</returns>
    public static IReadOnlyList<IReadOnlyList<string>> Of(IEnumerable<(string From, string To)> uses)
    {
        ILookup<string, string> next = uses.ToLookup(u => u.From, u => u.To, StringComparer.Ordinal);
        Dictionary<string, int> number = new(StringComparer.Ordinal);
        Dictionary<string, int> lowest = new(StringComparer.Ordinal);
        Stack<string> open = new();
        List<IReadOnlyList<string>> groups = [];
        foreach (string start in next.Select(g => g.Key).Where(n => !number.ContainsKey(n)).ToList())
        {
            if (!number.ContainsKey(start))
                Visit(start);
        }

        return [.. groups.OrderBy(g => g[0], StringComparer.Ordinal)];

        void Visit(string at)
        {
            number[at] = lowest[at] = number.Count;
            open.Push(at);
            foreach (string to in next[at])
            {
                if (!number.TryGetValue(to, out int seen))
                {
                    Visit(to);
                    lowest[at] = Math.Min(lowest[at], lowest[to]);
                }
                else if (open.Contains(to))
                {
                    lowest[at] = Math.Min(lowest[at], seen);
                }
            }

            if (lowest[at] != number[at])
                return;
            List<string> group = [];
            do
                group.Add(open.Pop());
            while (group[^1] != at);
            if (group.Count > 1)
                groups.Add([.. group.Order(StringComparer.Ordinal)]);
        }
    }
}
