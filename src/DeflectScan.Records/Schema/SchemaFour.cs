namespace DeflectScan.Records.Schema;

/// <summary>Schema 4: proofs of measurements by hand readings, and the readings. Never changed once released.</summary>
internal static class SchemaFour
{
    public const string Sql = """
        CREATE TABLE proofs (
            id TEXT PRIMARY KEY, build_id TEXT NOT NULL REFERENCES builds (id), measurement_id TEXT NOT NULL REFERENCES measurements (id), at TEXT NOT NULL,
            camera TEXT NOT NULL, cards TEXT NOT NULL, verdict TEXT NOT NULL CHECK (verdict IN ('agree', 'disagree', 'too_rough')), cause TEXT,
            chi_square REAL NOT NULL, probability REAL NOT NULL, largest_en REAL NOT NULL, row_sum BLOB NOT NULL) STRICT;
        CREATE INDEX proofs_by_build ON proofs (build_id, at, id);
        CREATE INDEX proofs_by_measurement ON proofs (measurement_id, at, id);

        CREATE TABLE proof_readings (
            proof_id TEXT NOT NULL REFERENCES proofs (id), position INTEGER NOT NULL, kind TEXT NOT NULL CHECK (kind IN ('station', 'gap')),
            from_guide INTEGER NOT NULL, to_guide INTEGER, reading_mm REAL NOT NULL, reading_uncertainty_mm REAL NOT NULL, photo_mm REAL NOT NULL,
            photo_uncertainty_mm REAL NOT NULL, row_sum BLOB NOT NULL, PRIMARY KEY (proof_id, position)) STRICT;
        """;
}
