namespace DeflectScan.Records.Schema;

/// <summary>
/// Schema 3: the running pair that follows worst, kept beside each document and in the lists. Both are made from the documents and can be made again,
/// as the migrator does where the mark "made_again" is due. Never changed once released.
/// </summary>
internal static class SchemaThree
{
    public const string Sql = """
        -- Made from the documents; no row where there is no such pair, or where the guides are in doubt.
        CREATE TABLE worst_pairs (
            document_sha256 TEXT PRIMARY KEY REFERENCES documents (sha256), worst_from INTEGER NOT NULL, worst_to INTEGER NOT NULL,
            worst_to_tip INTEGER NOT NULL, worst_by TEXT NOT NULL CHECK (worst_by IN ('bow', 'clearance')), worst_mm REAL NOT NULL,
            worst_uncertainty_mm REAL NOT NULL) STRICT;

        ALTER TABLE summaries ADD COLUMN worst_from INTEGER;
        ALTER TABLE summaries ADD COLUMN worst_to INTEGER;
        ALTER TABLE summaries ADD COLUMN worst_to_tip INTEGER;
        ALTER TABLE summaries ADD COLUMN worst_by TEXT;
        ALTER TABLE summaries ADD COLUMN worst_mm REAL;
        ALTER TABLE summaries ADD COLUMN worst_uncertainty_mm REAL;
        INSERT INTO archive (key, value) VALUES ('made_again', 'due');
        """;
}
