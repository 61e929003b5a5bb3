using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;
using DeflectScan.Findings;

namespace DeflectScan.Records.Schema;

/// <summary>One row of a table of facts.</summary>
internal sealed class Row
{
    /// <summary>Bytes of a row's hash.</summary>
    public const int SumBytes = 16;

    private readonly object?[] _values;

    /// <param name="table">Its table.</param>
    /// <param name="values">One for each column, in order.</param>
    /// <exception cref="InputException">A value does not fit its column.</exception>
    public Row(TableSpec table, params ReadOnlySpan<object?> values)
    {
        if (values.Length != table.Columns.Count)
            throw new InputException($"A row of {table.Name} has {values.Length} values and not {table.Columns.Count}.");
        Table = table;
        _values = new object?[values.Length];
        for (int i = 0; i < values.Length; i++)
            _values[i] = table.Columns[i].Fit(values[i]);
    }

    public TableSpec Table { get; }

    public IReadOnlyList<object?> Values => _values;

    /// <summary>The key's values, joined: unique in the table.</summary>
    public string Key => string.Join('/', _values.Take(Table.KeyCount));

    public string Text(string column) => (string)_values[Table.IndexOf(column)]!;

    public string? OptionalText(string column) => (string?)_values[Table.IndexOf(column)];

    public double Real(string column) => (double)_values[Table.IndexOf(column)]!;

    public double? OptionalReal(string column) => (double?)_values[Table.IndexOf(column)];

    public int Whole(string column) => (int)(long)_values[Table.IndexOf(column)]!;

    public int? OptionalWhole(string column) => (int?)(long?)_values[Table.IndexOf(column)];

    /// <summary>
    /// The first 16 bytes of SHA-256 over the table's name and, for each column, a letter for the value's kind, its length as 4 bytes
    /// (least first) and its bytes: UTF-8, or 8 bytes of the number (least first).
    /// </summary>
    public byte[] Sum()
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        Span<byte> head = stackalloc byte[5];
        Span<byte> number = stackalloc byte[8];
        Append(hash, head, 'n', Encoding.UTF8.GetBytes(Table.Name));
        foreach (object? value in _values)
        {
            switch (value)
            {
                case null:
                    Append(hash, head, '-', []);
                    break;
                case string text:
                    Append(hash, head, 't', Encoding.UTF8.GetBytes(text));
                    break;
                case long whole:
                    BinaryPrimitives.WriteInt64LittleEndian(number, whole);
                    Append(hash, head, 'w', number);
                    break;
                default:
                    BinaryPrimitives.WriteDoubleLittleEndian(number, (double)value);
                    Append(hash, head, 'r', number);
                    break;
            }
        }

        return hash.GetHashAndReset()[..SumBytes];
    }

    private static void Append(IncrementalHash hash, Span<byte> head, char kind, ReadOnlySpan<byte> bytes)
    {
        head[0] = (byte)kind;
        BinaryPrimitives.WriteInt32LittleEndian(head[1..], bytes.Length);
        hash.AppendData(head);
        hash.AppendData(bytes);
    }
}
