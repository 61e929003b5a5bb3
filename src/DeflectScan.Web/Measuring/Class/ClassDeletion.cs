using DeflectScan.Web.Storing;
using DeflectScan.Web.Teaching;

namespace DeflectScan.Web.Measuring;

/// <summary>What goes with a class.</summary>
/// <param name="Title">Its name.</param>
/// <param name="Students">How many have come in.</param>
/// <param name="Photos">Photos that go, with everything that was made of them.</param>
/// <param name="Bytes">What the photos take.</param>
/// <param name="Stay">Photos that stay, because they are on the bench or in another class, too.</param>
public sealed record GoingClass(string Title, int Students, int Photos, long Bytes, int Stay)
{
    /// <summary>As a sentence.</summary>
    public override string ToString() =>
        $"{Title}: the names of {Counted(Students, "student")}, {Counted(Photos, "photo")} ({Bytes / 1e6:0.0} MB) and what was measured of them."
        + $"{(Stay == 0 ? "" : $" {Counted(Stay, "photo")} {(Stay == 1 ? "stays" : "stay")}, being on the bench or in another class, too.")} What was kept with a build stays in the archive.";

    private static string Counted(int count, string what) => count == 1 ? $"1 {what}" : $"{count} {what}s";
}

/// <summary>Takes a class away wholly. It is marked as going first, so that what is cut short is ended at the next start.</summary>
/// <param name="rooms">All classes.</param>
/// <param name="photosOf">Photos that came in for a class.</param>
/// <param name="remove">Takes a photo away for good.</param>
/// <param name="giveTo">Gives a photo to another class that has it, too.</param>
internal sealed class ClassDeletion(ClassRooms rooms, Func<string, IReadOnlyList<StoredPhoto>> photosOf, Action<StoredPhoto> remove, Action<StoredPhoto, string> giveTo)
{
    public GoingClass Of(ClassRoom room)
    {
        StoredPhoto[] own = [.. photosOf(room.Id)];
        StoredPhoto[] going = [.. own.Where(p => OtherWith(room.Id, p.Id) is null)];
        int named = room.Now().Tries.Select(t => t.PhotoId).Distinct(StringComparer.Ordinal).Count();
        int sent = own.Count(p => room.Now().Tries.Any(t => t.PhotoId == p.Id));
        return new GoingClass(room.Facts.Title, room.Now().Students.Count, going.Length, going.Sum(p => p.Bytes), named - sent + (own.Length - going.Length));
    }

    public void Delete(ClassRoom room)
    {
        room.Go();
        Delete(room.Id);
    }

    /// <summary>What is left of a class that is going.</summary>
    public void Delete(string id)
    {
        foreach (StoredPhoto photo in photosOf(id))
        {
            if (OtherWith(id, photo.Id) is { } other)
                giveTo(photo, other);
            else
                remove(photo);
        }

        rooms.Remove(id);
    }

    private string? OtherWith(string id, string photoId) => rooms.All.FirstOrDefault(r => r.Id != id && r.Now().Tries.Any(t => t.PhotoId == photoId))?.Id;
}
