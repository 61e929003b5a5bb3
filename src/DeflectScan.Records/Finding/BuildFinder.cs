using DeflectScan.Records.Model;
using DeflectScan.Records.Storage;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Finding;

/// <summary>Finds builds by words (full-text index) and ranks them by likeness. Only the best so far are held, whatever the archive's size.</summary>
internal static class BuildFinder
{
    public static List<FoundBuild> Find(Database database, FindQuery query)
    {
        string? match = query.Text is { } text ? Words(text) : null;
        if (match is not null && !query.AsksLikeness)
            return ByWords(database, match, query);
        string sql = match is null
            ? $"SELECT {Summaries.Columns} FROM summaries"
            : $"SELECT {Summaries.Columns} FROM summaries WHERE number IN (SELECT rowid FROM search WHERE search MATCH $1)";
        using SqliteCommand command = database.Command(sql, match is null ? [] : [match]);
        using SqliteDataReader reader = command.ExecuteReader();
        Likeness likeness = new(query);
        PriorityQueue<BuildSummary, (double, string)> best = new();
        while (reader.Read())
        {
            BuildSummary build = Summaries.Read(reader);
            best.Enqueue(build, (likeness.Of(build), build.Id));
            if (best.Count > query.Limit)
                best.Dequeue();
        }

        List<FoundBuild> found = [];
        while (best.TryDequeue(out BuildSummary? build, out (double Score, string) rank))
            found.Insert(0, new FoundBuild(build, rank.Score, likeness.Reason(build)));
        return found;
    }

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
