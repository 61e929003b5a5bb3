using System.Text.Json;
using DeflectScan.Geometry;
using DeflectScan.Records.Storage;
using DeflectScan.Web.Storing;

namespace DeflectScan.Web.Correcting;

/// <summary>
/// A photo's corrections, one JSON line a step in a <see cref="LineLog"/>: undoing and redoing are steps, too.
/// </summary>
internal sealed class MarksLog
{
    private readonly LineLog _file;
    private readonly List<MarksState> _states = [MarksState.None];
    private int _at;

    private MarksLog(string path) => _file = new LineLog(path, DiskFiles.Instance.FlushFolder);

    public MarksState Now => _states[_at];

    public bool CanUndo => _at > 0;

    public bool CanRedo => _at < _states.Count - 1;

    /// <summary>What a redo would do again.</summary>
    public MarksState? Next => CanRedo ? _states[_at + 1] : null;

    public static MarksLog Open(string path)
    {
        MarksLog log = new(path);
        foreach (string line in log._file.Read())
            log.Apply(JsonSerializer.Deserialize(line, MarksJson.Default.LogLine)!);
        return log;
    }

    public void Set(MarksState state) => Append(new LogLine(
        "set", state.Marks.IsEmpty ? null : state.Marks.ToJson(), [.. state.PlacedPx.Select(p => new[] { p.X, p.Y })], [.. state.OpenMm], state.Says));

    public void Undo()
    {
        if (CanUndo)
            Append(new LogLine("undo", null, [], [], ""));
    }

    public void Redo()
    {
        if (CanRedo)
            Append(new LogLine("redo", null, [], [], ""));
    }

    private void Append(LogLine line)
    {
        _file.Append(JsonSerializer.SerializeToUtf8Bytes(line, MarksJson.Default.LogLine));
        Apply(line);
    }

    private void Apply(LogLine line)
    {
        switch (line.Do)
        {
            case "undo":
                _at = Math.Max(0, _at - 1);
                break;
            case "redo":
                _at = Math.Min(_states.Count - 1, _at + 1);
                break;
            default:
                _states.RemoveRange(_at + 1, _states.Count - _at - 1);
                _states.Add(new MarksState(
                    line.Marks is { } marks ? Marks.Parse(marks).OrDamaged() : Marks.None, [.. line.Placed.Select(p => new Vec2(p[0], p[1]))], line.Open, line.Says));
                _at++;
                break;
        }
    }
}

/// <summary>One line of the log. Marks is a marks document.</summary>
internal sealed record LogLine(string Do, string? Marks, double[][] Placed, double[] Open, string Says);
