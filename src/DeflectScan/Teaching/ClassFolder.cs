using DeflectScan.Findings;
using DeflectScan.Photos;

namespace DeflectScan.Teaching;

/// <summary>A student and the photos that were handed in, in the order of their names.</summary>
public sealed record HandedIn(string Student, IReadOnlyList<string> Photos);

/// <summary>
/// A folder of a class: a photo that lies in it is named after its student; a folder in it is a student's, with one photo or more, the last one by name being
/// the latest. A list of names stands above both.
/// </summary>
public static class ClassFolder
{
    /// <summary>The students and their photos, or one sentence on why there are none: nothing is in it, or the list names a file that is not there.</summary>
    /// <param name="folder">The folder.</param>
    /// <param name="names">Files (or folders) by their path in the folder, and names; empty for none.</param>
    public static Outcome<IReadOnlyList<HandedIn>> Read(string folder, IReadOnlyList<(string File, string Name)> names)
    {
        foreach ((string file, _) in names)
        {
            string path = Path.Combine(folder, file);
            if (!File.Exists(path) && !Directory.Exists(path))
                return Refused($"The list of names has {file}, which is not in the folder: mend the list, or put the photo there.");
        }

        Dictionary<string, string> named = new(StringComparer.Ordinal);
        foreach ((string file, string name) in names)
            named[Path.GetFullPath(Path.Combine(folder, file))] = name;
        string Student(string path, string otherwise) => named.GetValueOrDefault(Path.GetFullPath(path), otherwise);
        HandedIn[] all =
        [
            .. PhotoFolder.Photos(folder).Select(p => new HandedIn(Student(p, Spoken(Path.GetFileNameWithoutExtension(p))), [p])),
            .. Directory.EnumerateDirectories(folder).Order(StringComparer.Ordinal).SelectMany(Inside),
        ];
        // Photos that the list gives one name are one student's.
        HandedIn[] students = [.. all.GroupBy(h => h.Student, StringComparer.Ordinal).Select(g => new HandedIn(g.Key, [.. g.SelectMany(h => h.Photos)]))];
        return students.Length > 0
            ? Outcome<IReadOnlyList<HandedIn>>.Of(students)
            : Refused("There is no photo in that folder: give one with a photo, or a folder of photos, for each student.");

        static Outcome<IReadOnlyList<HandedIn>> Refused(string message) => Outcome<IReadOnlyList<HandedIn>>.Refused(FindingCode.FileUnreadable, message);

        IEnumerable<HandedIn> Inside(string of)
        {
            IReadOnlyList<string> photos = PhotoFolder.Photos(of);
            string name = Student(of, Spoken(Path.GetFileName(of)));
            return photos.GroupBy(p => Student(p, name), StringComparer.Ordinal).Select(g => new HandedIn(g.Key, [.. g]));
        }
    }

    /// <summary>Of a student's tries the one that stands: the last that has figures, or the last of all.</summary>
    public static ClassPhoto TryThatCounts(IReadOnlyList<ClassPhoto> tries) =>
        (tries.LastOrDefault(t => t.Measurement is { Status: not MeasurementStatus.Refused }) ?? tries[^1]) with { Tries = tries.Count };

    private static string Spoken(string fileName) => fileName.Replace('_', ' ').Trim() is { Length: > 0 } name ? name : fileName;
}
