using System.Text.Json;
using System.Text.Json.Serialization;
using DeflectScan.Records.Storage;
using DeflectScan.Web.Storing;

namespace DeflectScan.Web.Trying;

/// <summary>A layout that a person settled on.</summary>
/// <param name="Of">The key of the measurement that it is of.</param>
/// <param name="Layout">As <see cref="TriedLayout"/> writes it.</param>
/// <param name="Title">Name of the rod or build, for the sheet.</param>
/// <param name="At">When.</param>
internal sealed record AcceptedLayout(string Of, string Layout, string Title, DateTimeOffset At);

/// <summary>
/// The layouts that were accepted on a photo, one JSON line each in a <see cref="LineLog"/>. Taking one back is a line, too.
/// </summary>
internal sealed class AcceptedLayouts(string path)
{
    /// <summary>What a file may hold at most, in characters: far more than anyone accepts (chosen).</summary>
    private const int MostBytes = 1 << 20;

    private static readonly Lock Gate = new();
    private readonly LineLog _file = new(path, DiskFiles.Instance.FlushFolder);

    /// <summary>The one that stands now; null where none does.</summary>
    public AcceptedLayout? Now => Stack().LastOrDefault();

    /// <exception cref="IOException">It cannot be kept.</exception>
    public void Accept(AcceptedLayout layout) => Append(new AcceptedLine(layout));

    /// <summary>Takes the last one back: the one before it stands again.</summary>
    public void TakeBack()
    {
        if (Stack().Count > 0)
            Append(new AcceptedLine(null));
    }

    private List<AcceptedLayout> Stack()
    {
        List<AcceptedLayout> stack = [];
        foreach (string line in Lines())
        {
            if (JsonSerializer.Deserialize(line, AcceptedJson.Default.AcceptedLine) is { Layout: { } layout })
                stack.Add(layout);
            else if (stack.Count > 0)
                stack.RemoveAt(stack.Count - 1);
        }

        return stack;
    }

    private string[] Lines()
    {
        lock (Gate)
            return _file.Read();
    }

    private void Append(AcceptedLine line)
    {
        byte[] bytes = JsonSerializer.SerializeToUtf8Bytes(line, AcceptedJson.Default.AcceptedLine);
        lock (Gate)
        {
            if (_file.Read().Sum(l => l.Length) + bytes.Length > MostBytes)
                throw new IOException("too many layouts were accepted on this photo.");
            _file.Append(bytes);
        }
    }
}

/// <summary>A line of the file; without a layout: the last one is taken back.</summary>
internal sealed record AcceptedLine(AcceptedLayout? Layout);

[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(AcceptedLine))]
[JsonSerializable(typeof(AcceptedLayout))]
internal sealed partial class AcceptedJson : JsonSerializerContext;
