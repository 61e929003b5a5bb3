using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Reporting.Boards;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Teaching;
using DeflectScan.Web.Teaching;

namespace DeflectScan.Web.Measuring;

/// <summary>Feedback sheets of a class, drawn when they are asked for: one at a time, since each opens its photo anew.</summary>
internal sealed class ClassSheets(ClassBench classes, Bench bench)
{
    private static readonly SemaphoreSlim OneAtATime = new(1);

    /// <summary>The rods that there is something to say about, with their sheets' file names and whose they are; names hidden where the class hides them.</summary>
    public IReadOnlyList<(string File, ClassRod Rod, ClassStudent Student)> Of(ClassRoom room)
    {
        IReadOnlyList<ClassStudent> students = room.Now().Students;
        return [.. ClassBook.SheetFiles([.. classes.Report(room).Rods.Where(r => r.Photo.Measurement is not null)]).Select(s => (s.File, s.Rod, students.First(t => t.Name == s.Rod.Photo.Student)))];
    }

    /// <summary>A sheet's PDF file.</summary>
    public async Task<byte[]> Draw(ClassRoom room, ClassRod rod, ClassStudent student, SheetPaper paper, LengthUnit unit, CancellationToken cancel)
    {
        await OneAtATime.WaitAsync(cancel);
        try
        {
            ClassTry? sent = classes.TryThatCounts([.. room.Now().Tries.Where(t => t.StudentId == student.Id)]);
            return FeedbackSheet.Draw(rod, room.Facts.Title, Pictures(sent, rod.Photo.Measurement!, unit), paper, unit);
        }
        finally
        {
            OneAtATime.Release();
        }
    }

    private RodPictures Pictures(ClassTry? sent, Measurement m, LengthUnit unit)
    {
        if (sent is null || classes.Photo(sent) is not { } photo)
            return new RodPictures(null, null);
        Outcome<UprightPhoto> opened = PhotoOpener.Open(bench.Folder.Original(photo.Stored), PhotoLimits.Default);
        using UprightPhoto? upright = opened.Value;
        return upright is null ? new RodPictures(null, null) : RodPictures.Of(upright, m, unit);
    }
}
