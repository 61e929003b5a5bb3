using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Transfer;

/// <summary>
/// The rows of an archive for its export. Whole archives are streamed; with salvage, damaged rows are left out, and with them all rows that
/// refer to them.
/// </summary>
internal sealed class Facts
{
    private static readonly (string Column, string Table)[] References =
    [
        ("build_id", "builds"), ("revision_id", "revisions"), ("photo_sha256", "photos"), ("lens_sha256", "lenses"), ("layout_id", "layouts"), ("document_sha256", "documents"),
        ("measurement_id", "measurements"), ("to_build_id", "builds"), ("proof_id", "proofs"),
    ];

    private readonly ArchiveReader _reader;
    private readonly Dictionary<string, List<Row>>? _salvaged;
    private readonly Dictionary<string, HashSet<string>> _kept = [];
    private readonly List<string> _leftOut = [];

    public Facts(ArchiveReader reader, bool salvage)
    {
        _reader = reader;
        if (!salvage)
            return;
        _kept["documents"] = [.. Safely(reader.Database.List("SELECT sha256 FROM documents", r => r.GetString(0)), "documents").Where(HasDocument)];
        HashSet<object?> described = [.. Salvage(Tables.Revisions).Where(r => r.IsWhole).Select(r => r.Row!.Text("build_id"))];
        _salvaged = [];
        foreach (TableSpec table in Tables.All)
        {
            List<Row> rows = [];
            foreach ((Row? row, bool whole) in Salvage(table))
            {
                if (whole && Stands(row!) && (table != Tables.Builds || described.Contains(row!.Text("id"))))
                    rows.Add(row!);
                else
                    _leftOut.Add($"{table.Name} {row?.Key}");
            }

            rows.Sort((a, b) => string.CompareOrdinal(a.Key, b.Key));
            if (table == Tables.Photos)
                _leftOut.AddRange(rows.Where(r => !HasPhoto(r)).Select(r => $"photo {r.Key}: its file is damaged or missing; the figures made from it are kept"));
            _salvaged[table.Name] = rows;
            _kept[table.Name] = [.. rows.Select(r => r.Key)];
        }
    }

    public bool IsSalvaged => _salvaged is not null;

    public IReadOnlyList<string> LeftOut => _leftOut;

    public IEnumerable<Row> Rows(TableSpec table) => _salvaged is { } salvaged ? salvaged[table.Name] : FactTables.Stream(_reader.Database, table);

    /// <summary>Documents that some measurement refers to, each once.</summary>
    public IEnumerable<string> DocumentHashes() => _salvaged is { } salvaged
        ? salvaged["measurements"].Select(m => m.Text("document_sha256")).Distinct().Order(StringComparer.Ordinal)
        : _reader.Database.List("SELECT DISTINCT document_sha256 FROM measurements ORDER BY document_sha256", r => r.GetString(0));

    public string Document(string sha256) => Documents.Read(_reader.Database, sha256);

    /// <summary>The photos whose files go along.</summary>
    public IEnumerable<Row> PhotoFiles() => _salvaged is { } salvaged ? salvaged["photos"].Where(HasPhoto) : Rows(Tables.Photos);

    public string PhotoPath(Row photo)
    {
        string path = _reader.Paths.Photo(photo.Text("sha256"), photo.Text("extension"));
        return File.Exists(path) ? path : throw Faults.Damaged("a photo's file is missing");
    }

    private bool HasPhoto(Row photo) => PhotoStore.HashOf(_reader.Paths.Photo(photo.Text("sha256"), photo.Text("extension"))) == photo.Text("sha256");

    private bool HasDocument(string sha256)
    {
        try
        {
            return Documents.Read(_reader.Database, sha256).Length > 0;
        }
        catch (Exception e) when (e is ArchiveException or SqliteException)
        {
            return false;
        }
    }

    private bool Stands(Row row) => References.All(reference =>
        !row.Table.Columns.Any(c => c.Name == reference.Column) || row.OptionalText(reference.Column) is not { } key || _kept[reference.Table].Contains(key));

    private IEnumerable<(Row? Row, bool IsWhole)> Salvage(TableSpec table)
    {
        using SqliteCommand command = _reader.Database.Command($"SELECT {table.ColumnList}, {TableSpec.SumColumn} FROM {table.Name} NOT INDEXED");
        return [.. Safely(Read(command, r => FactTables.Examine(table, r)), table.Name)];
    }

    private static IEnumerable<T> Read<T>(SqliteCommand command, Func<SqliteDataReader, T> read)
    {
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
            yield return read(reader);
    }

    /// <summary>What can be read before the database's structure breaks off.</summary>
    private IEnumerable<T> Safely<T>(IEnumerable<T> rows, string table)
    {
        using IEnumerator<T> all = rows.GetEnumerator();
        while (true)
        {
            bool more;
            try
            {
                more = all.MoveNext();
            }
            catch (SqliteException)
            {
                _leftOut.Add($"{table}: what follows cannot be read");
                yield break;
            }

            if (!more)
                yield break;
            yield return all.Current;
        }
    }
}
