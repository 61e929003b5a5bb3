using System.Text;
using System.Text.Json;
using DeflectScan.Measuring;
using DeflectScan.Checking;
using DeflectScan.Photos;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Correcting;
using DeflectScan.Web.Pictures;
using DeflectScan.Web.Storing;

namespace DeflectScan.Web.Measuring;

/// <summary>One photo's way: the measurement, the check from what its first stages find, its document as the command line writes it, the map for the page's own geometry.</summary>
internal sealed class OneMeasurement(BenchFolder folder, ServeOptions options, PhotoPictures pictures, MemoryGate memory)
{
    /// <summary>The quick look at a class's photo by itself: its cards, since what a whole check would say of blank and line the measurement says next; null where it cannot be made.</summary>
    public static CheckReport? Look(BenchFolder folder, BenchPhoto photo)
    {
        try
        {
            return PhotoChecker.CheckCards(folder.Original(photo.Stored));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or InvalidOperationException or ArgumentException or OpenCvSharp.OpenCVException)
        {
            return null;
        }
    }

    /// <param name="photo">The photo.</param>
    /// <param name="state">The marks to measure it with.</param>
    /// <param name="cancel">Asked between the stages.</param>
    /// <param name="stages">Told the stage that begins.</param>
    /// <param name="finish">Carries out a change of the photo's state and tells the pages of it.</param>
    public void Run(BenchPhoto photo, MarksState state, CancellationToken cancel, IProgress<string> stages, Action<Action> finish)
    {
        StoredPhoto stored = photo.Stored;
        long bytes = PhotoCost.Of(folder.Original(stored));
        bool isIn = false;
        try
        {
            string path = folder.Original(stored);
            memory.Enter(bytes, cancel);
            isIn = true;
            StageCheck check = new(stages, report => finish(() => photo.Check = report));
            using MeasureRun run = options.Measure(path, options.Measuring with { Marks = state.Marks }, check, cancel);
            cancel.ThrowIfCancellationRequested();
            string key = BenchPhoto.KeyOf(state.Marks);
            if (run is { Plane: { } plane, Photo: { } seen } && run.Measurement.Blank is not null)
                folder.WriteResult(stored.Id, Bench.MapName(key), JsonSerializer.SerializeToUtf8Bytes(PlaneGrid.Of(run.Measurement, plane, seen.Info), GridJson.Default.PlaneGrid));
            string document = MeasurementJson.Write(run.Measurement);
            folder.WriteResult(stored.Id, Bench.DocumentName(key), Encoding.UTF8.GetBytes(document));
            Measurement asKept = MeasurementJson.Read(document).OrDamaged();
            finish(() =>
            {
                (photo.Measured, photo.MeasuredKey, photo.MeasuredWith) = (asKept, key, state);
                (photo.Stage, photo.Doing) = (Stage.Done, "");
            });
            if (run.Photo is { } upright && stored.ClassId is null) // few of a class's are looked at: theirs is made when one is
                KeepOverview(stored, upright);
        }
        catch (OperationCanceledException)
        {
            finish(() => (photo.Stage, photo.Doing) = (Stage.Cancelled, ""));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or InvalidOperationException or ArgumentException or OpenCvSharp.OpenCVException)
        {
            finish(() => (photo.Stage, photo.Doing) = (Stage.Failed, $"Something went wrong while measuring: {e.Message}"));
        }
        finally
        {
            if (isIn)
                memory.Leave(bytes);
        }
    }

    // The figures are there already, and the page waits for them alone; one that cannot be kept now is made when it is asked for.
    private void KeepOverview(StoredPhoto stored, UprightPhoto photo)
    {
        try
        {
            pictures.KeepOverview(stored, photo);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or OpenCvSharp.OpenCVException)
        {
        }
    }
}
