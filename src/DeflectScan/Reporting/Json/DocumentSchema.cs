using System.Globalization;
using System.Text.Json;
using DeflectScan.Findings;

namespace DeflectScan.Reporting.Json;

/// <summary>Which document a JSON text is: the schema is its first promise.</summary>
internal static class DocumentSchema
{
    /// <summary>The schema that a document names; null where it names none.</summary>
    public static string? Of(JsonElement root) =>
        root.ValueKind == JsonValueKind.Object && root.TryGetProperty("schema", out JsonElement schema) && schema.ValueKind == JsonValueKind.String
            ? schema.GetString()
            : null;

    /// <summary>The document, seen to be of a schema.</summary>
    /// <param name="root">The document.</param>
    /// <param name="expected">Name and number: "deflectscan.measurement/1".</param>
    /// <exception cref="InputException">It is another document, or one of a later program; the message is one sentence.</exception>
    public static JsonElement Checked(JsonElement root, string expected)
    {
        string? schema = Of(root);
        if (schema == expected)
            return root;
        (string name, int number) = Parts(expected);
        string kind = name[(name.IndexOf('.', StringComparison.Ordinal) + 1)..];
        if (schema is null)
            throw new InputException($"This is no {kind} document: it names no schema, {expected} is needed.");
        (string otherName, int otherNumber) = Parts(schema);
        throw new InputException(
            otherName == name && otherNumber > number ? $"This {kind} document is of a later version than this program reads ({Short(schema)}, not {expected}): update deflectscan."
            : otherName.StartsWith("deflectscan.", StringComparison.Ordinal) ? $"This is a document of another kind ({Short(schema)}): give one of schema {expected}."
            : $"This is no {kind} document: its schema is not {expected}.");
    }

    private static string Short(string text) => text.Length <= 60 ? text : text[..60] + "…";

    private static (string Name, int Number) Parts(string schema)
    {
        int slash = schema.LastIndexOf('/');
        return slash > 0 && int.TryParse(schema[(slash + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out int number)
            ? (schema[..slash], number)
            : (schema, 0);
    }
}
