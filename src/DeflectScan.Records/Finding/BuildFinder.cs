using DeflectScan.Records.Model;
using DeflectScan.Records.Storage;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Finding;

/// <summary>Lists builds, finds them by words (full-text index) and ranks them by likeness. Only the best so far are held, whatever the archive's size.</summary>
internal static class BuildFinder
{
    /// <summary>A page of a list, from 1.</summary>
    public static List<BuildSummary> Page(Database database, int page, int size, ListQuery query)
    {
        (string where, object?[] values) = query.Filter(3);
        return database.List($"SELECT {Summaries.Columns} FROM summaries{where} ORDER BY {query.OrderBy} LIMIT $1 OFFSET $2", Summaries.Read, [size, (long)(page - 1) * size, .. values]);
    }

    /// <summary>How many builds a list has.</summary>
    public static int Count(Database database, ListQuery query)
    {
        (string where, object?[] values) = query.Filter(1);
        return (int)(long)database.Scalar($"SELECT count(*) FROM summaries{where}", values)!;
    }

    public static List<FoundBuild> Find(Database database, FindQuery query)
    {
        string? match = query.Text is { } text ? Words(text) : null;
        if (match is not null && !query.AsksLikeness)
            return ByWords(database, match, query);
        string sql = match is null
            ? $"SELECT {Compared} FROM summaries"
            : $"SELECT {Compared} FROM summaries WHERE number IN (SELECT rowid FROM search WHERE search MATCH $1)";
        using SqliteCommand command = database.Command(sql, match is null ? [] : [match]);
        using SqliteDataReader reader = command.ExecuteReader();
        Likeness likeness = new(query);
        PriorityQueue<string, (double Score, string Id)> best = new();
        while (reader.Read())
        {
            string id = reader.GetString(0);
            if (id == query.NotBuildId)
                continue;
            double score = likeness.Of(Light(reader));
            if (best.Count < query.Limit)
                best.Enqueue(id, (score, id));
            else
                best.EnqueueDequeue(id, (score, id));
        }

        List<FoundBuild> found = [];
        while (best.TryDequeue(out string? id, out (double Score, string Id) rank))
        {
            BuildSummary build = database.List($"SELECT {Summaries.Columns} FROM summaries WHERE build_id = $1", Summaries.Read, id)[0];
            found.Insert(0, new FoundBuild(build, rank.Score, likeness.Reason(build)));
        }

        return found;
    }

    /// <summary>Only what is compared: reading the rest of ten thousand rows would take longer than comparing them.</summary>
    private const string Compared = "build_id, blank_length_mm, reel_class, line, side, rod_use, tip_turn_deg";

    private static BuildSummary Light(SqliteDataReader r) => new(
        "", default, "", null, null, r.IsDBNull(1) ? null : r.GetDouble(1), r.IsDBNull(2) ? null : r.GetInt32(2), r.IsDBNull(3) ? null : r.GetString(3),
        r.IsDBNull(4) ? null : r.GetString(4), r.IsDBNull(5) ? null : r.GetString(5), 0, r.IsDBNull(6) ? null : r.GetDouble(6), null, null);

    private static List<FoundBuild> ByWords(Database database, string match, FindQuery query) => database.List(
        $"SELECT {Summaries.Columns} FROM (SELECT rowid AS found, rank FROM search WHERE search MATCH $1 ORDER BY rank LIMIT $2) JOIN summaries ON number = found ORDER BY rank, build_id",
        r => new FoundBuild(Summaries.Read(r), 1, $"has the words \"{query.Text!.Trim()}\""),
        match,
        query.Limit);

    /// <summary>Every word quoted and taken as a beginning, so that nothing typed is read as the index's own language.</summary>
    private static string? Words(string text)
    {
        string[] words = text.Replace('"', ' ').Replace('\0', ' ').Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
        string[] usable = [.. words.Where(w => w.Any(char.IsLetterOrDigit))];
        return usable.Length == 0 ? null : string.Join(' ', usable.Select(w => $"\"{w}\"*"));
    }
}
