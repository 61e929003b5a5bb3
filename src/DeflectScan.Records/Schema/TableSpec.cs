using DeflectScan.Findings;

namespace DeflectScan.Records.Schema;

/// <summary>How a column's values are stored: SQLite's strict types.</summary>
internal enum ColumnKind
{
    Text,
    Whole,
    Real,
}

/// <summary>One column. A value is a string, a long or a double, or null where the column may be empty.</summary>
internal sealed record Column(string Name, ColumnKind Kind, bool Optional = false)
{
    /// <summary>The value as this column keeps it; a whole number counts as a real one where a real one is wanted.</summary>
    /// <exception cref="InputException">The value does not fit the column.</exception>
    public object? Fit(object? value) => (Kind, value) switch
    {
        (_, null) when Optional => null,
        (ColumnKind.Text, string text) when CanBeKept(text) => text,
        (ColumnKind.Text, string) => throw new InputException($"The text of {Name} has a character that cannot be kept: take it out."),
        (ColumnKind.Whole, long whole) => whole,
        (ColumnKind.Whole, int whole) => (long)whole,
        (ColumnKind.Real, double real) when double.IsFinite(real) => real == 0 ? 0.0 : real,
        (ColumnKind.Real, long whole) => (double)whole,
        _ => throw new InputException($"The value of {Name} is of the wrong kind or missing."),
    };

    /// <summary>No NUL, at which texts end elsewhere, and no half of a character.</summary>
    private static bool CanBeKept(string text)
    {
        for (int i = 0; i < text.Length; i++)
        {
            if (text[i] == '\0' || (char.IsSurrogate(text[i]) && !char.IsSurrogatePair(text, i++)))
                return false;
        }

        return true;
    }
}

/// <summary>
/// A table of facts: rows are written once and never changed, so that two archives merge by putting their rows together.
/// Every row carries the hash of its columns, by which damage is found and equal rows are known.
/// </summary>
/// <param name="Name">As in the database, the export's JSON and the CSV files.</param>
/// <param name="KeyCount">How many of the first columns make the key.</param>
/// <param name="Columns">In order.</param>
internal sealed record TableSpec(string Name, int KeyCount, IReadOnlyList<Column> Columns)
{
    public const string SumColumn = "row_sum";

    public string ColumnList { get; } = string.Join(", ", Columns.Select(c => c.Name));

    public int IndexOf(string column)
    {
        for (int i = 0; i < Columns.Count; i++)
        {
            if (Columns[i].Name == column)
                return i;
        }

        throw new ArgumentException($"{Name} has no column {column}.", nameof(column));
    }
}
