using DeflectScan.Records.Model;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Records.Keeping;

/// <summary>Test casts that are kept with a build, as notes of their own kind.</summary>
public static class CastKeeping
{
    /// <summary>A build's test casts in order; notes in a person's own words alone are none.</summary>
    /// <param name="reader">The archive.</param>
    /// <param name="build">As a person calls it.</param>
    /// <exception cref="ArchiveException">There is no such build, or there are several.</exception>
    public static CastNotes Of(ArchiveReader reader, string build)
    {
        Build known = reader.Build(reader.Resolve(build))!;
        IEnumerable<KeptCast?> casts = known.Notes.Where(n => n.Kind == NoteKind.TestCast).Select(n => CastNoteText.Read(n.Text, DateOnly.FromDateTime(n.At)));
        return new CastNotes(known.Facts.Name.ReplaceLineEndings(" "), [.. casts.OfType<KeptCast>()]);
    }

    /// <summary>Keeps one.</summary>
    /// <exception cref="ArchiveException">There is no such build, or there are several.</exception>
    public static void Add(ArchiveWriter writer, string build, KeptCast cast) => writer.AddNote(writer.Reader.Resolve(build), NoteKind.TestCast, CastNoteText.Write(cast));
}
