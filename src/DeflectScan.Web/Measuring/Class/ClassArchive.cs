using DeflectScan.Records;
using DeflectScan.Records.Model;
using DeflectScan.Records.Storage;
using DeflectScan.Web.Storing;
using DeflectScan.Web.Teaching;

namespace DeflectScan.Web.Measuring;

/// <summary>A class of an archive, for a list.</summary>
public sealed record ListedClass(string Id, string Title, DateTimeOffset MadeAt, int Students, int Photos);

/// <summary>The classes of an archive while no page is served from it.</summary>
public static class ClassArchive
{
    /// <exception cref="ArchiveException">No archive, or a page is served from it.</exception>
    public static IReadOnlyList<ListedClass> List(string archiveFolder)
    {
        MustBeThere(archiveFolder);
        return [.. Rooms(archiveFolder).All.Select(r => new ListedClass(r.Id, r.Facts.Title, r.MadeAt, r.Now().Students.Count, r.Now().Tries.Count))];
    }

    /// <summary>What goes with a class, and with <paramref name="delete"/> takes it away; null where there is no such class.</summary>
    /// <exception cref="ArchiveException">No archive, or a page is served from it.</exception>
    public static GoingClass? Take(string archiveFolder, string id, bool delete)
    {
        MustBeThere(archiveFolder);
        using BenchFolder folder = new(archiveFolder, DiskFiles.Instance, TimeProvider.System);
        ClassRooms rooms = Rooms(archiveFolder);
        ClassDeletion deletion = new(
            rooms,
            of => [.. folder.All().Where(p => p.ClassId == of)],
            photo => folder.Remove(photo.Id),
            (photo, other) => folder.Revise(photo with { ClassId = other }));
        foreach (string going in rooms.Going)
            deletion.Delete(going);
        if (rooms.Find(id) is not { } room)
            return null;
        GoingClass goes = deletion.Of(room);
        if (delete)
            deletion.Delete(room);
        return goes;
    }

    private static ClassRooms Rooms(string archiveFolder) => new(archiveFolder, DiskFiles.Instance.FlushFolder, TimeProvider.System);

    private static void MustBeThere(string archiveFolder)
    {
        if (!Archive.IsThere(archiveFolder))
            throw new ArchiveException(ArchiveProblem.NotThere, "There is no archive in that folder: name the archive's folder, the one that the page is served from.");
    }
}
