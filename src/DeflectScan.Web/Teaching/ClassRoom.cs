using System.Security.Cryptography;
using System.Text;
using DeflectScan.Findings;

namespace DeflectScan.Web.Teaching;

/// <summary>A class that is held: who is in it and what they have sent. Its log changes under its lock.</summary>
internal sealed class ClassRoom(string id, ClassLog log, TimeProvider clock)
{
    /// <summary>Phones in one class (a class of thirty, twice over; chosen).</summary>
    public const int MostStudents = 60;

    /// <summary>Photos of one student (chosen).</summary>
    public const int MostTries = 40;

    /// <summary>Photos of one student within <see cref="Minute"/> (chosen).</summary>
    public const int MostInAMinute = 6;

    private static readonly TimeSpan Minute = TimeSpan.FromMinutes(1);
    private readonly Lock _gate = new();

    public string Id => id;

    public string Code => log.Code;

    public DateTimeOffset MadeAt => log.MadeAt;

    public ClassFacts Facts
    {
        get
        {
            lock (_gate)
                return log.Facts;
        }
    }

    public (IReadOnlyList<ClassStudent> Students, IReadOnlyList<ClassTry> Tries) Now()
    {
        lock (_gate)
            return ([.. log.Students], [.. log.Tries]);
    }

    public void Set(ClassFacts facts)
    {
        lock (_gate)
            log.Set(facts);
    }

    /// <summary>A student comes in; gives the token for the phone.</summary>
    /// <exception cref="InputException">The class is full or closed, or somebody has that name; one sentence.</exception>
    public (ClassStudent Student, string Token) Join(string? typed)
    {
        string name = CleanText.Line(typed, 40);
        string token = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(32));
        lock (_gate)
        {
            if (!log.Facts.IsOpen)
                throw new InputException("This class is closed: ask your instructor to open it.");
            if (log.Students.Count >= MostStudents)
                throw new InputException($"This class has {MostStudents} phones already, which is as many as there can be.");
            if (name.Length > 0 && log.Students.Any(s => s.Name.Equals(name, StringComparison.OrdinalIgnoreCase)))
                throw new InputException("Somebody has that name already: add a letter to yours.");
            ClassStudent student = new(NewId(), name.Length > 0 ? name : FreeNumber(), Hash(token));
            log.Join(student, clock.GetUtcNow());
            return (student, token);
        }
    }

    /// <summary>The first number that nobody has, nor has typed as a name.</summary>
    private string FreeNumber()
    {
        int number = log.Students.Count + 1;
        while (log.Students.Any(s => s.Name == $"No. {number}"))
            number++;
        return $"No. {number}";
    }

    public ClassStudent? Student(string tokenHash)
    {
        lock (_gate)
            return log.Students.FirstOrDefault(s => s.TokenHash == tokenHash);
    }

    /// <summary>Why a student may send none now, one sentence; null where one may be sent.</summary>
    public string? Refusal(ClassStudent student)
    {
        lock (_gate)
        {
            ClassTry[] own = [.. log.Tries.Where(t => t.StudentId == student.Id)];
            DateTimeOffset since = clock.GetUtcNow() - Minute;
            return !log.Facts.IsOpen ? "This class is closed: nothing more is taken."
                : own.Length >= MostTries ? $"You have sent {MostTries} photos, which is as many as are taken: ask your instructor."
                : own.Count(t => t.At > since) >= MostInAMinute ? "That was many photos in a minute: look at what came of them first."
                : null;
        }
    }

    /// <summary>A photo that lies on the disk already becomes the student's; it is in the log when this returns.</summary>
    public ClassTry Sent(ClassStudent student, string photoId, bool saidPlace)
    {
        lock (_gate)
        {
            ClassTry sent = new(NewId(), student.Id, photoId, clock.GetUtcNow(), saidPlace);
            log.Send(sent);
            return sent;
        }
    }

    public void Go()
    {
        lock (_gate)
            log.Go();
    }

    public static string Hash(string token) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(token)));

    public static string NewId() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8));
}
