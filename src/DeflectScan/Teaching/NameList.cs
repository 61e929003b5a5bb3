using System.Text;

namespace DeflectScan.Teaching;

/// <summary>A list of files and the students' names, as CSV (RFC 4180): the first two fields of each line; a first line "file,name" is its heading.</summary>
public static class NameList
{
    private const int MostLines = 10_000;

    /// <exception cref="FormatException">It is none; the message is one sentence.</exception>
    public static IReadOnlyList<(string File, string Name)> Read(string text)
    {
        List<(string, string)> names = [];
        foreach (IReadOnlyList<string> fields in Lines(text.TrimStart('\uFEFF')))
        {
            if (fields.All(f => f.Trim().Length == 0))
                continue;
            if (fields.Count < 2 || fields[0].Trim().Length == 0 || fields[1].Trim().Length == 0)
                throw new FormatException($"Line {names.Count + 1} of the list of names is not a file and a name with a comma between.");
            if (names.Count == 0 && fields[0].Trim().Equals("file", StringComparison.OrdinalIgnoreCase))
                continue;
            names.Add((fields[0].Trim(), fields[1].Trim()));
            if (names.Count > MostLines)
                throw new FormatException($"The list of names has more than {MostLines} lines.");
        }

        return names;
    }

    private static IEnumerable<IReadOnlyList<string>> Lines(string text)
    {
        List<string> fields = [];
        StringBuilder field = new();
        bool quoted = false;
        for (int i = 0; i < text.Length; i++)
        {
            char c = text[i];
            if (quoted)
            {
                if (c != '"')
                    field.Append(c);
                else if (i + 1 < text.Length && text[i + 1] == '"')
                    field.Append(text[i++]);
                else
                    quoted = false;
            }
            else if (c == '"' && field.Length == 0)
            {
                quoted = true;
            }
            else if (c is ',' or '\n')
            {
                fields.Add(field.ToString().TrimEnd('\r'));
                field.Clear();
                if (c == ',')
                    continue;
                yield return fields;
                fields = [];
            }
            else
            {
                field.Append(c);
            }
        }

        if (quoted)
            throw new FormatException("The list of names ends within quotes: a quote is missing.");
        if (field.Length > 0 || fields.Count > 0)
            yield return [.. fields, field.ToString().TrimEnd('\r')];
    }
}
