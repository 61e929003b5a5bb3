using DeflectScan.Records.Model;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Storage;

/// <summary>What is made from the facts to list and to find builds by: one row a build, and its words.</summary>
internal static class Summaries
{
    public const string Columns =
        "build_id, changed_at, name, owner, blank, blank_length_mm, reel_class, line, side, rod_use, measurement_count, tip_turn_deg, largest_gap_mm, guide_count, "
        + WorstPairs.Columns;

    /// <summary>Makes a build's row and words again from its facts.</summary>
    public static void Refresh(Database database, string buildId)
    {
        Build build = BuildReading.Read(database, buildId) ?? throw Faults.Damaged("a build is missing");
        (BuildSummary summary, string words) = Of(build);
        long? known = (long?)database.Scalar("SELECT number FROM summaries WHERE build_id = $1", buildId);
        long number = known ?? (((long?)database.Scalar("SELECT max(number) FROM summaries") ?? 0) + 1);
        string places = string.Join(", ", Enumerable.Range(2, Columns.Split(',').Length).Select(i => "$" + i));
        database.Execute($"INSERT OR REPLACE INTO summaries (number, {Columns}) VALUES ($1, {places})", [number, .. Values(summary)]);
        if (known is not null)
            database.Execute("DELETE FROM search WHERE rowid = $1", number);
        database.Execute("INSERT INTO search (rowid, words) VALUES ($1, $2)", number, words);
    }

    /// <summary>What a build's row and words must be.</summary>
    public static (BuildSummary Summary, string Words) Of(Build b)
    {
        StoredMeasurement? last = b.LatestTest;
        BuildFacts f = b.Facts;
        DateTime changed = new[] { b.History[^1].At }
            .Concat(b.Measurements.Select(m => m.MadeAt)).Concat(b.Layouts.Select(l => l.At)).Concat(b.Notes.Select(n => n.At)).Max();
        BuildSummary summary = new(
            b.Id, changed, f.Name, f.Owner, f.Blank, f.BlankLengthMm, f.ReelClass, f.Line, SideText.Of(f.Side) ?? last?.Side, f.Use, b.Measurements.Count,
            last?.TipTurnDeg, last?.LargestGapMm, f.Guides.Count > 0 ? f.Guides.Count : last?.GuideCount)
        {
            Worst = last?.Worst,
        };
        IEnumerable<string?> words =
        [
            f.Name, f.Owner, f.Blank, f.SpineMark, f.Handle, f.Line, f.Use, f.Remarks, f.ReelClass?.ToString(),
            .. f.Guides.Select(g => g.Frame).Distinct(), .. b.Measurements.Select(m => m.Label), .. b.Layouts.Select(l => l.Name), .. b.Notes.Select(n => n.Text),
        ];
        return (summary, string.Join('\n', words.Where(w => !string.IsNullOrWhiteSpace(w))));
    }

    public static object?[] Values(BuildSummary s) =>
    [
        s.Id, RowsOf.Time(s.ChangedAt), s.Name, s.Owner, s.Blank, s.BlankLengthMm, s.ReelClass is { } reel ? (long)reel : null, s.Line, s.Side,
        s.Use, (long)s.MeasurementCount, s.TipTurnDeg, s.LargestGapMm, s.GuideCount is { } guides ? (long)guides : null, .. WorstPairs.Values(s.Worst),
    ];

    public static BuildSummary Read(SqliteDataReader r) => new(
        r.GetString(0), RowsOf.Time(r.GetString(1)), r.GetString(2), Text(r, 3), Text(r, 4), Real(r, 5), Whole(r, 6), Text(r, 7), Text(r, 8), Text(r, 9),
        r.GetInt32(10), Real(r, 11), Real(r, 12), Whole(r, 13))
    {
        Worst = WorstPairs.Read(r, 14),
    };

    private static string? Text(SqliteDataReader r, int i) => r.IsDBNull(i) ? null : r.GetString(i);

    private static double? Real(SqliteDataReader r, int i) => r.IsDBNull(i) ? null : r.GetDouble(i);

    private static int? Whole(SqliteDataReader r, int i) => r.IsDBNull(i) ? null : r.GetInt32(i);
}
