using System.Text.Json;
using DeflectScan.Records.Schema;

namespace DeflectScan.Records.Transfer;

/// <summary>A row as a JSON object with a member for each column.</summary>
internal static class RowJson
{
    public static void Write(Utf8JsonWriter json, Row row)
    {
        json.WriteStartObject();
        for (int i = 0; i < row.Values.Count; i++)
        {
            json.WritePropertyName(row.Table.Columns[i].Name);
            switch (row.Values[i])
            {
                case null:
                    json.WriteNullValue();
                    break;
                case string text:
                    json.WriteStringValue(text);
                    break;
                case long whole:
                    json.WriteNumberValue(whole);
                    break;
                case double real:
                    json.WriteNumberValue(real);
                    break;
            }
        }

        json.WriteEndObject();
    }

    /// <exception cref="InvalidDataException">No such row.</exception>
    public static Row Read(TableSpec table, JsonElement e)
    {
        if (e.ValueKind != JsonValueKind.Object || e.EnumerateObject().Count() != table.Columns.Count)
            throw new InvalidDataException($"A row of {table.Name} does not have the columns of this version.");
        object?[] values = new object?[table.Columns.Count];
        for (int i = 0; i < values.Length; i++)
        {
            Column column = table.Columns[i];
            if (!e.TryGetProperty(column.Name, out JsonElement value))
                throw new InvalidDataException($"A row of {table.Name} has no {column.Name}.");
            values[i] = (value.ValueKind, column.Kind) switch
            {
                (JsonValueKind.Null, _) => null,
                (JsonValueKind.String, ColumnKind.Text) => value.GetString(),
                (JsonValueKind.Number, ColumnKind.Whole) => value.TryGetInt64(out long whole) ? whole : null,
                (JsonValueKind.Number, ColumnKind.Real) => value.TryGetDouble(out double real) ? real : null,
                _ => throw new InvalidDataException($"{column.Name} of a row of {table.Name} is of the wrong kind."),
            };
        }

        return new Row(table, values);
    }
}
