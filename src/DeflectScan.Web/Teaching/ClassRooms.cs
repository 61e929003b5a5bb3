using System.Collections.Concurrent;
using System.Security.Cryptography;

namespace DeflectScan.Web.Teaching;

/// <summary>All classes of an archive, a folder each in its folder <c>classes</c>.</summary>
internal sealed class ClassRooms
{
    /// <summary>Letters and digits that are not taken for each other (Crockford's base 32).</summary>
    private const string Letters = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

    /// <summary>30 bits: with <see cref="ClassDoor"/>'s limits guessing one takes thousands of years.</summary>
    private const int CodeLength = 6;

    private readonly string _root;
    private readonly Action<string> _flushFolder;
    private readonly TimeProvider _clock;
    private readonly ConcurrentDictionary<string, ClassRoom> _rooms = new(StringComparer.Ordinal);

    /// <param name="archiveFolder">The archive's folder.</param>
    /// <param name="flushFolder">Flushes a folder's entries to the disk.</param>
    /// <param name="clock">The time.</param>
    public ClassRooms(string archiveFolder, Action<string> flushFolder, TimeProvider clock)
    {
        (_root, _flushFolder, _clock) = (Path.Combine(Path.GetFullPath(archiveFolder), "classes"), flushFolder, clock);
        if (!Directory.Exists(_root))
            return;
        List<string> going = [];
        foreach (string folder in Directory.EnumerateDirectories(_root))
        {
            string id = Path.GetFileName(folder);
            if (!File.Exists(Path.Combine(folder, ClassLog.File)))
                continue;
            ClassLog log = ClassLog.Open(Path.Combine(folder, ClassLog.File), flushFolder);
            if (log.IsGoing)
                going.Add(id);
            else if (log.Code.Length > 0)
                _rooms[id] = new ClassRoom(id, log, clock);
        }

        Going = going;
    }

    /// <summary>Classes whose deletion was begun and not ended.</summary>
    public IReadOnlyList<string> Going { get; } = [];

    /// <summary>The newest first.</summary>
    public IReadOnlyList<ClassRoom> All => [.. _rooms.Values.OrderByDescending(r => r.MadeAt).ThenBy(r => r.Id, StringComparer.Ordinal)];

    public ClassRoom? Find(string id) => _rooms.GetValueOrDefault(id);

    public ClassRoom Make(string title)
    {
        string id = ClassRoom.NewId();
        string folder = Path.Combine(_root, id);
        Directory.CreateDirectory(folder);
        _flushFolder(Path.GetDirectoryName(_root)!);
        ClassLog log = ClassLog.Open(Path.Combine(folder, ClassLog.File), _flushFolder);
        log.Make(NewCode(), ClassFacts.Of(title), _clock.GetUtcNow());
        _flushFolder(_root);
        return _rooms[id] = new ClassRoom(id, log, _clock);
    }

    /// <summary>The class of a code; null where there is none.</summary>
    public ClassRoom? OfCode(string code) => _rooms.Values.FirstOrDefault(r => CryptographicOperations.FixedTimeEquals(
        System.Text.Encoding.UTF8.GetBytes(r.Code), System.Text.Encoding.UTF8.GetBytes(code.ToUpperInvariant())));

    /// <summary>Who a phone's token belongs to; null for nobody.</summary>
    public (ClassRoom Room, ClassStudent Student)? OfToken(string? token)
    {
        if (token is not { Length: 64 })
            return null;
        string hash = ClassRoom.Hash(token);
        foreach (ClassRoom room in _rooms.Values)
        {
            if (room.Student(hash) is { } student)
                return (room, student);
        }

        return null;
    }

    /// <summary>Takes a class off the disk; its photos are gone before.</summary>
    public void Remove(string id)
    {
        _rooms.TryRemove(id, out _);
        string folder = Path.Combine(_root, id);
        if (Directory.Exists(folder))
            Directory.Delete(folder, recursive: true);
        _flushFolder(_root);
    }

    private static string NewCode() => RandomNumberGenerator.GetString(Letters, CodeLength);
}
