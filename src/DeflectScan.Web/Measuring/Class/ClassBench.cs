using System.Collections.Concurrent;
using DeflectScan.Teaching;
using DeflectScan.Web.Storing;
using DeflectScan.Web.Teaching;

namespace DeflectScan.Web.Measuring;

/// <summary>Classes on the bench: whose photo is whose, and each class put side by side. Rods are read as their photos are measured, not when a board is asked for.</summary>
internal sealed class ClassBench : IDisposable
{
    private readonly Bench _bench;
    private readonly ConcurrentDictionary<string, KeptRod> _kept = new(StringComparer.Ordinal);
    private readonly CancellationTokenSource _ends = new();
    private readonly Changes.Listener _ear;
    private readonly Task _reading;

    public ClassBench(ClassRooms rooms, Bench bench)
    {
        (Rooms, _bench) = (rooms, bench);
        foreach (string id in rooms.Going)
            Deletion.Delete(id);
        _ear = bench.Changes.Listen();
        _reading = Task.Run(ReadOn);
    }

    public ClassRooms Rooms { get; }

    /// <summary>Says the id of a class whose board has changed.</summary>
    public Changes Changes { get; } = new();

    /// <summary>The way to take a class away with its photos.</summary>
    public ClassDeletion Deletion => new(
        Rooms,
        id => [.. _bench.OfClass(id).Select(p => p.Stored)],
        photo => Found(photo.Id, _bench.Remove),
        (photo, other) => Found(photo.Id, p => _bench.GiveTo(p, other)));

    public BenchPhoto? Photo(ClassTry sent) => _bench.Find(sent.PhotoId);

    /// <summary>Keeps a student's photo, durably, and asks for its measurement.</summary>
    public async Task<ClassTry> Take(ClassRoom room, ClassStudent student, byte[] plain, string name, bool saidPlace, CancellationToken cancel)
    {
        using MemoryStream body = new(plain);
        (BenchPhoto photo, _) = await _bench.Take(body, name, cancel, room.Id);
        ClassTry sent = room.Sent(student, photo.Stored.Id, saidPlace);
        Changes.Say(room.Id);
        return sent;
    }

    /// <summary>The measured rod of a photo; null while there is none.</summary>
    public KeptRod? Kept(BenchPhoto photo)
    {
        lock (photo.Gate)
            return photo.Measured is not null && _kept.TryGetValue(photo.Stored.Id, out KeptRod? kept) && kept.Key == photo.MeasuredKey ? kept : null;
    }

    /// <summary>The class side by side as it is now.</summary>
    public ClassReport Report(ClassRoom room)
    {
        (IReadOnlyList<ClassStudent> students, IReadOnlyList<ClassTry> tries) = room.Now();
        ClassFacts facts = room.Facts;
        ClassOptions options = new()
        {
            Title = facts.Title, TargetBowMm = facts.TargetBowMm, TargetIsBest = facts.TargetIsBest, HideNames = facts.HideNames, IsSameBlank = facts.IsSameBlank,
            Order = Enum.Parse<ClassOrder>(facts.Order, ignoreCase: true),
        };
        return ClassRule.Of([.. students.Select(s => RodOf(s, [.. tries.Where(t => t.StudentId == s.Id)]))], options, Reference(facts));
    }

    /// <summary>Of a student's tries the one that stands: the last that has figures, or the last of all; null for none.</summary>
    public ClassTry? TryThatCounts(IReadOnlyList<ClassTry> own) =>
        own.LastOrDefault(t => Photo(t)?.Measured is { Status: not MeasurementStatus.Refused }) ?? own.LastOrDefault();

    public void Dispose()
    {
        _ends.Cancel();
        _ear.Dispose();
        _reading.Wait(TimeSpan.FromSeconds(5));
        _ends.Dispose();
    }

    private void Found(string id, Action<BenchPhoto> then)
    {
        if (_bench.Find(id) is { } photo)
            then(photo);
    }

    private ClassRod RodOf(ClassStudent student, IReadOnlyList<ClassTry> own)
    {
        ClassPhoto nothing = new(student.Name, "", null, null, own.Count);
        if (TryThatCounts(own) is not { } sent || Photo(sent) is not { } photo)
            return new ClassRod(student.Name, nothing, RodStanding.NoFigures, "No photo yet.");
        if (Kept(photo) is { } kept)
            return kept.Rod with { Name = student.Name, Photo = kept.Rod.Photo with { Student = student.Name, File = "", Tries = own.Count } };
        return new ClassRod(student.Name, nothing, RodStanding.NoFigures, Going(photo));
    }

    private static string Going(BenchPhoto photo)
    {
        lock (photo.Gate)
        {
            return photo.Stage switch
            {
                Stage.Waiting => "Waiting to be measured.", Stage.Measuring or Stage.Done => "Being measured.", Stage.Cancelled => "Measuring it was cancelled.", _ => photo.Doing,
            };
        }
    }

    private ClassRod? Reference(ClassFacts facts)
    {
        if (facts.Reference is not { } id || _bench.Find(id) is not { } photo)
            return null;
        Read(photo);
        return Kept(photo) is { } kept ? kept.Rod with { Name = "Instructor", Photo = kept.Rod.Photo with { Student = "Instructor" } } : null;
    }

    private async Task ReadOn()
    {
        foreach (ClassRoom room in Rooms.All)
        {
            foreach (ClassTry sent in room.Now().Tries)
                Found(sent.PhotoId, Read);
        }

        try
        {
            while (await _ear.Ids.WaitToReadAsync(_ends.Token))
            {
                HashSet<string> ids = [];
                while (_ear.Ids.TryRead(out string? id))
                    ids.Add(id);
                Dictionary<string, HashSet<string>> sentTo = Rooms.All.ToDictionary(r => r.Id, r => r.Now().Tries.Select(t => t.PhotoId).ToHashSet(StringComparer.Ordinal), StringComparer.Ordinal);
                HashSet<string> changed = [];
                foreach (string id in ids)
                {
                    string[] classes = [.. sentTo.Where(s => s.Value.Contains(id)).Select(s => s.Key)];
                    if (classes.Length > 0)
                        Found(id, Read);
                    changed.UnionWith(classes);
                }

                foreach (string id in changed)
                    Changes.Say(id);
            }
        }
        catch (OperationCanceledException)
        {
            // The server ends.
        }
    }

    private void Read(BenchPhoto photo)
    {
        Measurement? measured;
        string key;
        lock (photo.Gate)
            (measured, key) = (photo.Measured, photo.MeasuredKey);
        if (measured is null || (_kept.TryGetValue(photo.Stored.Id, out KeptRod? known) && known.Key == key))
            return;
        ClassRod rod = RodReading.Of(new ClassPhoto("", photo.Stored.Name, measured));
        _kept[photo.Stored.Id] = new KeptRod(key, rod, RodAdvice.Of(rod));
    }
}
