namespace DeflectScan.Records.Schema;

/// <summary>Schema 1 as it was released. Never changed: a later schema is a migration of its own.</summary>
internal static class SchemaOne
{
    public const string Sql = """
        CREATE TABLE archive (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT;

        CREATE TABLE builds (id TEXT PRIMARY KEY, created_at TEXT NOT NULL, row_sum BLOB NOT NULL) STRICT;

        CREATE TABLE revisions (
            id TEXT PRIMARY KEY, build_id TEXT NOT NULL REFERENCES builds (id), at TEXT NOT NULL, name TEXT NOT NULL, owner TEXT, blank TEXT,
            blank_length_mm REAL, pieces INTEGER, spine_mark TEXT, handle TEXT, reel_class INTEGER, line TEXT,
            side TEXT CHECK (side IN ('inside', 'outside')), rod_use TEXT, remarks TEXT, row_sum BLOB NOT NULL) STRICT;
        CREATE INDEX revisions_by_build ON revisions (build_id, at, id);

        CREATE TABLE guides (
            revision_id TEXT NOT NULL REFERENCES revisions (id), position INTEGER NOT NULL, frame TEXT, ring_size_mm REAL, from_tip_mm REAL NOT NULL,
            from_reel_mm REAL, row_sum BLOB NOT NULL, PRIMARY KEY (revision_id, position)) STRICT;

        CREATE TABLE photos (
            sha256 TEXT PRIMARY KEY, extension TEXT NOT NULL, bytes INTEGER NOT NULL, width_px INTEGER NOT NULL, height_px INTEGER NOT NULL,
            row_sum BLOB NOT NULL) STRICT;

        CREATE TABLE lenses (sha256 TEXT PRIMARY KEY, profile TEXT NOT NULL, row_sum BLOB NOT NULL) STRICT;

        -- The measurement documents, packed (Brotli); the hash is that of the text.
        CREATE TABLE documents (sha256 TEXT PRIMARY KEY, packed BLOB NOT NULL) STRICT;

        CREATE TABLE measurements (
            id TEXT PRIMARY KEY, build_id TEXT NOT NULL REFERENCES builds (id), photo_sha256 TEXT NOT NULL REFERENCES photos (sha256),
            lens_sha256 TEXT REFERENCES lenses (sha256), document_sha256 TEXT NOT NULL REFERENCES documents (sha256), made_at TEXT NOT NULL,
            program_version TEXT NOT NULL, settings TEXT NOT NULL, label TEXT, status TEXT NOT NULL CHECK (status IN ('ok', 'needs_review')),
            side TEXT CHECK (side IN ('inside', 'outside')), traced_length_mm REAL NOT NULL, tip_turn_deg REAL NOT NULL, guide_count INTEGER NOT NULL,
            largest_gap_mm REAL, largest_gap_uncertainty_mm REAL, largest_bow_mm REAL, largest_bow_uncertainty_mm REAL, row_sum BLOB NOT NULL) STRICT;
        CREATE INDEX measurements_by_build ON measurements (build_id, made_at, id);
        CREATE INDEX measurements_by_photo ON measurements (photo_sha256);

        CREATE TABLE layouts (
            id TEXT PRIMARY KEY, build_id TEXT NOT NULL REFERENCES builds (id), at TEXT NOT NULL, name TEXT NOT NULL, basis TEXT NOT NULL,
            row_sum BLOB NOT NULL) STRICT;
        CREATE INDEX layouts_by_build ON layouts (build_id, at, id);

        CREATE TABLE layout_guides (
            layout_id TEXT NOT NULL REFERENCES layouts (id), position INTEGER NOT NULL, from_tip_mm REAL NOT NULL, from_reel_mm REAL,
            ring_size_mm REAL, height_mm REAL, row_sum BLOB NOT NULL, PRIMARY KEY (layout_id, position)) STRICT;

        CREATE TABLE choices (
            id TEXT PRIMARY KEY, build_id TEXT NOT NULL REFERENCES builds (id), layout_id TEXT NOT NULL REFERENCES layouts (id), at TEXT NOT NULL,
            row_sum BLOB NOT NULL) STRICT;
        CREATE INDEX choices_by_build ON choices (build_id, at, id);

        CREATE TABLE notes (
            id TEXT PRIMARY KEY, build_id TEXT NOT NULL REFERENCES builds (id), at TEXT NOT NULL,
            kind TEXT NOT NULL CHECK (kind IN ('note', 'test-cast', 'remark')), text TEXT NOT NULL, row_sum BLOB NOT NULL) STRICT;
        CREATE INDEX notes_by_build ON notes (build_id, at, id);

        -- Made from the tables above, to list and to find by; can be made again at any time.
        CREATE TABLE summaries (
            number INTEGER PRIMARY KEY, build_id TEXT NOT NULL UNIQUE REFERENCES builds (id), changed_at TEXT NOT NULL, name TEXT NOT NULL, owner TEXT,
            blank TEXT, blank_length_mm REAL, reel_class INTEGER, line TEXT, side TEXT, rod_use TEXT, measurement_count INTEGER NOT NULL,
            tip_turn_deg REAL, largest_gap_mm REAL, guide_count INTEGER) STRICT;
        CREATE INDEX summaries_by_change ON summaries (changed_at DESC, build_id DESC);
        CREATE INDEX summaries_by_name ON summaries (name);
        CREATE VIRTUAL TABLE search USING fts5 (words, tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3');
        """;
}
