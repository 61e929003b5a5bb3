using System.Text;
using DeflectScan.Findings;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Storage;

/// <summary>Rows of facts into and out of a database, each with its hash.</summary>
internal static class FactTables
{
    /// <summary>What became of a row that was to be added.</summary>
    public enum Added
    {
        New,
        SameWasThere,
        OtherWasThere,
    }

    public static Added Add(Database database, Row row)
    {
        byte[] sum = row.Sum();
        TableSpec table = row.Table;
        string places = string.Join(", ", Enumerable.Range(1, table.Columns.Count + 1).Select(i => "$" + i));
        string sql = $"INSERT INTO {table.Name} ({table.ColumnList}, {TableSpec.SumColumn}) VALUES ({places}) ON CONFLICT DO NOTHING";
        if (database.Execute(sql, [.. row.Values, sum]) == 1)
            return Added.New;
        object?[] key = [.. row.Values.Take(table.KeyCount)];
        object? there = database.Scalar($"SELECT {TableSpec.SumColumn} FROM {table.Name} WHERE {KeyIs(table)}", key);
        return there is byte[] known && known.AsSpan().SequenceEqual(sum) ? Added.SameWasThere : Added.OtherWasThere;
    }

    /// <summary>Adds a row that must be new.</summary>
    /// <exception cref="ArchiveException">It was there.</exception>
    public static void AddNew(Database database, Row row)
    {
        if (Add(database, row) != Added.New)
            throw Faults.Damaged($"a row of {row.Table.Name} is there that cannot be");
    }

    /// <summary>The rows that a condition picks, in the order of the key or as given; each is held against its hash.</summary>
    /// <exception cref="ArchiveException">A row is not what was written.</exception>
    public static List<Row> Read(Database database, TableSpec table, string rest = "", params ReadOnlySpan<object?> values) =>
        database.List($"SELECT {table.ColumnList}, {TableSpec.SumColumn} FROM {table.Name} {rest}", r => Checked(table, r), values);

    /// <summary>Every row in the order of the key, one after the other, so that a large table needs no more memory than a small one.</summary>
    /// <exception cref="ArchiveException">A row is not what was written.</exception>
    public static IEnumerable<Row> Stream(Database database, TableSpec table)
    {
        string order = string.Join(", ", table.Columns.Take(table.KeyCount).Select(c => c.Name));
        using SqliteCommand command = database.Command($"SELECT {table.ColumnList}, {TableSpec.SumColumn} FROM {table.Name} ORDER BY {order}");
        using SqliteDataReader reader = command.ExecuteReader();
        while (reader.Read())
            yield return Checked(table, reader);
    }

    /// <summary>The row at the reader, and whether it is what was written.</summary>
    public static (Row? Row, bool IsWhole) Examine(TableSpec table, SqliteDataReader reader)
    {
        try
        {
            object?[] values = new object?[table.Columns.Count];
            for (int i = 0; i < values.Length; i++)
                values[i] = reader.IsDBNull(i) ? null : reader.GetValue(i);
            Row row = new(table, values);
            bool whole = reader.GetValue(values.Length) is byte[] sum && sum.AsSpan().SequenceEqual(row.Sum());
            return (row, whole);
        }
        catch (Exception e) when (e is InputException or DecoderFallbackException or InvalidCastException)
        {
            return (null, false);
        }
    }

    private static Row Checked(TableSpec table, SqliteDataReader reader) =>
        Examine(table, reader) is { Row: { } row, IsWhole: true } ? row : throw Faults.Damaged($"a row of {table.Name} is not what was written");

    private static string KeyIs(TableSpec table) =>
        string.Join(" AND ", table.Columns.Take(table.KeyCount).Select((c, i) => $"{c.Name} = ${i + 1}"));
}
