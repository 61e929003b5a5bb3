using System.Text;
using DeflectScan.Findings;

namespace DeflectScan.Teaching;

/// <summary>A list of files and the students' names, as CSV (RFC 4180): the first two fields of each line; a first line "file,name" is its heading.</summary>
public static class NameList
{
    private const int MostLines = 10_000;

    /// <summary>The names, or one sentence on why it is no such list.</summary>
    public static Outcome<IReadOnlyList<(string File, string Name)>> Read(string text)
    {
        if (Lines(text.TrimStart('\uFEFF')) is not { } lines)
            return Refused("The list of names ends within quotes: a quote is missing.");
        List<(string, string)> names = [];
        foreach (IReadOnlyList<string> fields in lines)
        {
            if (fields.All(f => f.Trim().Length == 0))
                continue;
            if (fields.Count < 2 || fields[0].Trim().Length == 0 || fields[1].Trim().Length == 0)
                return Refused($"Line {names.Count + 1} of the list of names is not a file and a name with a comma between.");
            if (names.Count == 0 && fields[0].Trim().Equals("file", StringComparison.OrdinalIgnoreCase))
                continue;
            names.Add((fields[0].Trim(), fields[1].Trim()));
            if (names.Count > MostLines)
                return Refused($"The list of names has more than {MostLines} lines.");
        }

        return Outcome<IReadOnlyList<(string File, string Name)>>.Of(names);

        static Outcome<IReadOnlyList<(string File, string Name)>> Refused(string message) => Outcome<IReadOnlyList<(string File, string Name)>>.Refused(FindingCode.FileUnreadable, message);
    }

    // Null where a quote is missing.
    private static List<IReadOnlyList<string>>? Lines(string text)
    {
        List<IReadOnlyList<string>> lines = [];
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
                lines.Add(fields);
                fields = [];
            }
            else
            {
                field.Append(c);
            }
        }

        if (field.Length > 0 || fields.Count > 0)
            lines.Add([.. fields, field.ToString().TrimEnd('\r')]);
        return quoted ? null : lines;
    }
}
