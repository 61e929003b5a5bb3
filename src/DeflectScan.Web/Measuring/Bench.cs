using System.Collections.Concurrent;
using System.Text;
using DeflectScan.Checking;
using DeflectScan.Findings;
using DeflectScan.Measuring;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Correcting;
using DeflectScan.Web.Pictures;
using DeflectScan.Web.Storing;
using DeflectScan.Web.Words;

namespace DeflectScan.Web.Measuring;

/// <summary>
/// The photos of the bench and the one queue in which they are measured, corrections first. What a person gave is on the disk before it is acknowledged;
/// what follows from it is worked out again where it is missing, so that a process may end at any moment.
/// </summary>
internal sealed class Bench : IDisposable
{
    private readonly BenchFolder _folder;
    private readonly ServeOptions _options;
    private readonly ConcurrentDictionary<string, BenchPhoto> _photos = new(StringComparer.Ordinal);
    private readonly Queue _queue;
    private readonly MemoryGate _memory = new(new ManyOptions().MemoryBytes);

    public Bench(BenchFolder folder, ServeOptions options)
    {
        (_folder, _options) = (folder, options);
        Photos = new PhotoPictures(folder);
        foreach (StoredPhoto stored in folder.All())
            _photos[stored.Id] = new BenchPhoto(stored, MarksLog.Open(LogPath(stored.Id)));
        _queue = new Queue(MeasureOne, p => p.Stored.ClassId is not null);
        foreach (BenchPhoto photo in _photos.Values.Where(p => !p.Stored.IsAside).OrderByDescending(p => p.Stored.ReceivedAt))
            Ask(photo, isCorrection: false);
    }

    public Changes Changes { get; } = new();

    public PhotoPictures Photos { get; }

    public BenchFolder Folder => _folder;

    public int Waiting => _queue.Count;

    /// <summary>Every photo of the bench that is not set aside, the newest first; photos of a class stand on its board.</summary>
    public IReadOnlyList<BenchPhoto> Listed() =>
        [.. _photos.Values.Where(p => !p.Stored.IsAside && p.Stored.ClassId is null).OrderByDescending(p => p.Stored.ReceivedAt).ThenBy(p => p.Stored.Id, StringComparer.Ordinal)];

    public BenchPhoto? Find(string id) => _photos.GetValueOrDefault(id);

    /// <summary>Every photo that came in for a class.</summary>
    public IReadOnlyList<BenchPhoto> OfClass(string classId) => [.. _photos.Values.Where(p => p.Stored.ClassId == classId)];

    /// <summary>Keeps an uploaded photo, durably, and asks for its measurement.</summary>
    public async Task<(BenchPhoto Photo, bool IsNew)> Take(Stream body, string name, CancellationToken cancel, string? classId = null)
    {
        (StoredPhoto stored, bool isNew) = await _folder.Add(body, name, _options.MaxUploadBytes, classId, cancel);
        BenchPhoto photo = _photos.GetOrAdd(stored.Id, _ => new BenchPhoto(stored, MarksLog.Open(LogPath(stored.Id))));
        if (photo.Stored.IsAside)
            SetAside(photo, false);
        if (classId is null && photo.Stored.ClassId is not null)
            GiveTo(photo, null);
        if (isNew)
            Ask(photo, isCorrection: false);
        return (photo, isNew);
    }

    public void SetAside(BenchPhoto photo, bool aside) => Revise(photo, stored => stored with { IsAside = aside });

    /// <summary>Gives a photo to a class, or with null to the bench, with which it stays.</summary>
    public void GiveTo(BenchPhoto photo, string? classId) => Revise(photo, stored => stored with { ClassId = classId });

    private void Revise(BenchPhoto photo, Func<StoredPhoto, StoredPhoto> change)
    {
        lock (photo.Gate)
        {
            StoredPhoto revised = change(photo.Stored);
            _folder.Revise(revised);
            photo.Stored = revised;
            photo.Version++;
        }

        Changes.Say(photo.Stored.Id);
    }

    /// <summary>Takes a photo away for good, with everything that was made of it.</summary>
    public void Remove(BenchPhoto photo)
    {
        lock (photo.Gate)
        {
            photo.Cancel?.Cancel();
            photo.Stage = Stage.Cancelled;
            _photos.TryRemove(photo.Stored.Id, out _);
            _folder.Remove(photo.Stored.Id);
        }

        Changes.Say(photo.Stored.Id);
    }

    /// <summary>Takes a correction into the log and asks for the measurement with it.</summary>
    /// <exception cref="InputException">It makes no sense on what was measured; nothing is changed.</exception>
    public void Correct(BenchPhoto photo, Correction correction)
    {
        lock (photo.Gate)
        {
            if (photo.Measured is not { } shown)
                throw new InputException("The photo is not measured yet: wait for it.");
            if (photo.MeasuredKey != BenchPhoto.KeyOf(photo.Log.Now.Marks))
                throw new InputException("The last correction is still being measured: try again in a moment.");
            photo.Log.Set(correction.On(shown, photo.Log.Now, Open(photo)));
        }

        Ask(photo, isCorrection: true);
    }

    /// <summary>Takes marks that were proposed as one step that can be undone.</summary>
    public void TakeOver(BenchPhoto photo, MarksState proposed)
    {
        lock (photo.Gate)
            photo.Log.Set(proposed);
        Ask(photo, isCorrection: true);
    }

    /// <summary>One step back or forth in the corrections.</summary>
    public void Step(BenchPhoto photo, bool back)
    {
        lock (photo.Gate)
        {
            if (back)
                photo.Log.Undo();
            else
                photo.Log.Redo();
        }

        Ask(photo, isCorrection: true);
    }

    /// <summary>Stations on the shown measurement that are open whether a guide stands there.</summary>
    public static IReadOnlyList<double> Open(BenchPhoto photo) =>
        photo.Measured is { } m && !photo.MeasuredWith.Marks.IsComplete ? FindingPlaces.Doubts(m) : photo.MeasuredWith.OpenMm;

    public void Cancel(BenchPhoto photo)
    {
        lock (photo.Gate)
        {
            photo.Cancel?.Cancel();
            if (photo.Stage == Stage.Waiting)
                photo.Stage = Stage.Cancelled;
            photo.Version++;
        }

        Changes.Say(photo.Stored.Id);
    }

    /// <summary>Asks for the measurement with the marks of now, from the disk where it has been made before.</summary>
    public void Ask(BenchPhoto photo, bool isCorrection)
    {
        lock (photo.Gate)
        {
            MarksState state = photo.Log.Now;
            string key = BenchPhoto.KeyOf(state.Marks);
            photo.Cancel?.Cancel();
            if (_folder.Result(photo.Stored.Id, DocumentName(key)) is { } known)
            {
                Show(photo, MeasurementJson.Read(Encoding.UTF8.GetString(known)).OrDamaged(), key, state);
            }
            else
            {
                (photo.Stage, photo.Doing, photo.Cancel) = (Stage.Waiting, "Waiting", new CancellationTokenSource());
                photo.Version++;
                _queue.Add(photo, isCorrection || IsToBeChecked(photo));
            }
        }

        Changes.Say(photo.Stored.Id);
    }

    public static string DocumentName(string key) => $"{ProgramVersion}-{key}.json";

    public static string MapName(string key) => $"{ProgramVersion}-{key}.map.json";

    public void Dispose()
    {
        foreach (BenchPhoto photo in _photos.Values)
        {
            lock (photo.Gate)
                photo.Cancel?.Cancel();
        }

        _queue.Dispose();
        Photos.Dispose();
        _folder.Dispose();
    }

    private static string ProgramVersion { get; } = typeof(MeasurePipeline).Assembly.GetName().Version!.ToString(3);

    private string LogPath(string id) => Path.Combine(_folder.FolderOf(id), "marks.jsonl");

    private static void Show(BenchPhoto photo, Measurement m, string key, MarksState state)
    {
        (photo.Measured, photo.MeasuredKey, photo.MeasuredWith) = (m, key, state);
        (photo.Stage, photo.Doing, photo.Cancel) = (Stage.Done, "", null);
        photo.Version++;
    }

    private void MeasureOne(BenchPhoto photo)
    {
        MarksState state;
        CancellationTokenSource mine;
        if (IsToBeChecked(photo) && _queue.Count > 0)
        {
            CheckFirst(photo);
            return;
        }

        lock (photo.Gate)
        {
            if (photo.Stage != Stage.Waiting || photo.Cancel is not { IsCancellationRequested: false } source)
                return;
            (state, mine) = (photo.Log.Now, source);
            (photo.Stage, photo.Doing) = (Stage.Measuring, "Opening the photo");
            photo.Version++;
        }

        Changes.Say(photo.Stored.Id);
        new OneMeasurement(_folder, _options, Photos, _memory).Run(photo, state, mine.Token, Progress(photo), Finished);

        void Finished(Action change)
        {
            lock (photo.Gate)
            {
                if (photo.Cancel != mine)
                    return; // a newer wish has taken its place
                change();
                photo.Version++;
            }

            Changes.Say(photo.Stored.Id);
        }
    }

    /// <summary>In a class many photos come at once, and whoever took one wants to know first whether it will do.</summary>
    private static bool IsToBeChecked(BenchPhoto photo) => photo.Stored.ClassId is not null && photo.Check is null;

    /// <summary>Looks at a photo, and lines it up again behind the others.</summary>
    private void CheckFirst(BenchPhoto photo)
    {
        CheckReport? check = OneMeasurement.Look(_folder, photo);
        lock (photo.Gate)
        {
            photo.Check = check ?? new CheckReport(null, []);
            photo.Version++;
        }

        _queue.Add(photo, first: false);
        Changes.Say(photo.Stored.Id);
    }

    private StageProgress Progress(BenchPhoto photo) => new(name =>
    {
        lock (photo.Gate)
        {
            photo.Doing = name;
            photo.Version++;
        }

        Changes.Say(photo.Stored.Id);
    });
}
