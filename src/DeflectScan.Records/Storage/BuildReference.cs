using DeflectScan.Records.Model;

namespace DeflectScan.Records.Storage;

/// <summary>Finds the build that a person means. The closest way to name one holds: by its id, its name, its name in other letters, the name's beginning.</summary>
internal static class BuildReference
{
    private const int FewestDigits = 4;
    private const int MostNamed = 4;

    /// <exception cref="ArchiveException">None or several: the sentence says so.</exception>
    public static string Resolve(Database database, string reference)
    {
        string wanted = reference.Trim();
        (string Condition, string Value)[] ways =
        [
            ("build_id = $1", wanted.ToLowerInvariant()),
            .. wanted.Length >= FewestDigits && wanted.All(char.IsAsciiHexDigit) ? [("substr(build_id, -length($1)) = $1", wanted.ToLowerInvariant())] : Array.Empty<(string, string)>(),
            ("name = $1", wanted),
            ("name = $1 COLLATE NOCASE", wanted),
            ("substr(name, 1, length($1)) = $1 COLLATE NOCASE", wanted),
        ];
        foreach ((string condition, string value) in ways.Where(_ => wanted.Length > 0))
        {
            List<(string Id, string Name)> found = database.List(
                $"SELECT build_id, name FROM summaries WHERE {condition} ORDER BY name, build_id LIMIT {MostNamed + 1}", r => (r.GetString(0), r.GetString(1)), value);
            if (found.Count == 1)
                return found[0].Id;
            if (found.Count > 1)
                throw new ArchiveException(ArchiveProblem.Refused, $"Several builds are meant by that: {Names(found)}; give the id that the list of builds shows.");
        }

        throw new ArchiveException(ArchiveProblem.Refused, "There is no such build: the list of builds shows their names and ids.");
    }

    private static string Names(List<(string Id, string Name)> found) =>
        string.Join(", ", found.Take(MostNamed).Select(f => $"\"{f.Name.ReplaceLineEndings(" ")}\" ({f.Id[^8..]})")) + (found.Count > MostNamed ? ", and more" : "");
}
