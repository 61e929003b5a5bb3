using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using DeflectScan.Web.Storing;

namespace DeflectScan.Web.Teaching;

/// <summary>A student of a class.</summary>
/// <param name="Id">16 hex digits by chance.</param>
/// <param name="Name">As typed, or "Rod 3"; untrusted text.</param>
/// <param name="TokenHash">Of what the phone's cookie holds.</param>
internal sealed record ClassStudent(string Id, string Name, string TokenHash);

/// <summary>A photo that a student has sent.</summary>
/// <param name="Id">16 hex digits by chance: a phone's name for it, which says nothing of anybody else's.</param>
/// <param name="StudentId">Whose.</param>
/// <param name="PhotoId">On the bench.</param>
/// <param name="At">When, UTC.</param>
/// <param name="SaidPlace">It said where it was taken, which was taken out.</param>
internal sealed record ClassTry(string Id, string StudentId, string PhotoId, DateTimeOffset At, bool SaidPlace);

/// <summary>What happens in a class, one JSON line a step in a <see cref="LineLog"/>.</summary>
internal sealed class ClassLog
{
    public const string File = "class.jsonl";
    private readonly LineLog _file;
    private readonly List<ClassStudent> _students = [];
    private readonly List<ClassTry> _tries = [];

    private ClassLog(string path, Action<string> flushFolder) => _file = new LineLog(path, flushFolder);

    public ClassFacts Facts { get; private set; } = ClassFacts.Of("Class");

    public string Code { get; private set; } = "";

    public DateTimeOffset MadeAt { get; private set; }

    public bool IsGoing { get; private set; }

    public IReadOnlyList<ClassStudent> Students => _students;

    public IReadOnlyList<ClassTry> Tries => _tries;

    public static ClassLog Open(string path, Action<string> flushFolder)
    {
        ClassLog log = new(path, flushFolder);
        foreach (string line in log._file.Read())
            log.Apply(JsonNode.Parse(line)!.AsObject());
        return log;
    }

    public void Make(string code, ClassFacts facts, DateTimeOffset at) => Append(new JsonObject { ["do"] = "made", ["code"] = code, ["at"] = Time(at), ["facts"] = facts.ToJson() });

    public void Set(ClassFacts facts) => Append(new JsonObject { ["do"] = "set", ["facts"] = facts.ToJson() });

    public void Join(ClassStudent student, DateTimeOffset at) =>
        Append(new JsonObject { ["do"] = "joined", ["student"] = student.Id, ["name"] = student.Name, ["token"] = student.TokenHash, ["at"] = Time(at) });

    public void Send(ClassTry sent) =>
        Append(new JsonObject { ["do"] = "sent", ["try"] = sent.Id, ["student"] = sent.StudentId, ["photo"] = sent.PhotoId, ["at"] = Time(sent.At), ["place"] = sent.SaidPlace });

    public void Go() => Append(new JsonObject { ["do"] = "going" });

    private static string Time(DateTimeOffset at) => at.ToString("O", CultureInfo.InvariantCulture);

    private void Append(JsonObject step)
    {
        _file.Append(JsonSerializer.SerializeToUtf8Bytes(step, JsonNodes.Default.JsonObject));
        Apply(step);
    }

    private void Apply(JsonObject step)
    {
        DateTimeOffset At() => DateTimeOffset.Parse((string)step["at"]!, CultureInfo.InvariantCulture);
        switch ((string?)step["do"])
        {
            case "made":
                (Code, MadeAt) = ((string)step["code"]!, At());
                Facts = Facts.With(step["facts"]!.AsObject());
                break;
            case "set":
                Facts = Facts.With(step["facts"]!.AsObject());
                break;
            case "joined":
                _students.Add(new ClassStudent((string)step["student"]!, (string)step["name"]!, (string)step["token"]!));
                break;
            case "sent":
                _tries.Add(new ClassTry((string)step["try"]!, (string)step["student"]!, (string)step["photo"]!, At(), (bool?)step["place"] ?? false));
                break;
            case "going":
                IsGoing = true;
                break;
        }
    }
}
