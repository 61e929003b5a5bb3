namespace DeflectScan.Records.Schema;

/// <summary>Schema 2: a test can be set aside as wrong, count again, or be moved to its right build. Never changed once released.</summary>
internal static class SchemaTwo
{
    public const string Sql = """
        CREATE TABLE standings (
            id TEXT PRIMARY KEY, build_id TEXT NOT NULL REFERENCES builds (id), measurement_id TEXT NOT NULL REFERENCES measurements (id), at TEXT NOT NULL,
            state TEXT NOT NULL CHECK (state IN ('aside', 'counts', 'moved')), to_build_id TEXT REFERENCES builds (id), reason TEXT, row_sum BLOB NOT NULL) STRICT;
        CREATE INDEX standings_by_build ON standings (build_id, at, id);
        CREATE INDEX standings_by_target ON standings (to_build_id);
        CREATE INDEX standings_by_measurement ON standings (measurement_id, at, id);
        """;
}
