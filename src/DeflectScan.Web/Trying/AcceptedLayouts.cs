using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace DeflectScan.Web.Trying;

/// <summary>A layout that a person settled on.</summary>
/// <param name="Of">The key of the measurement that it is of.</param>
/// <param name="Layout">As <see cref="TriedLayout"/> writes it.</param>
/// <param name="Title">Name of the rod or build, for the sheet.</param>
/// <param name="At">When.</param>
internal sealed record AcceptedLayout(string Of, string Layout, string Title, DateTimeOffset At);

/// <summary>
/// The layouts that were accepted on a photo, one JSON line each in a file that is only added to; flushed before they are acknowledged. Taking one back is a
/// line, too. A last line without its end, from a process that was killed, was never acknowledged and is cut off by the next one that is written.
/// </summary>
internal sealed class AcceptedLayouts(string path)
{
    /// <summary>What a file may hold at most, in bytes: far more than anyone accepts (chosen).</summary>
    private const int MostBytes = 1 << 20;

    private static readonly Lock Writing = new();

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
        foreach (string line in Whole().Split('\n', StringSplitOptions.RemoveEmptyEntries))
        {
            if (JsonSerializer.Deserialize(line, AcceptedJson.Default.AcceptedLine) is { Layout: { } layout })
                stack.Add(layout);
            else if (stack.Count > 0)
                stack.RemoveAt(stack.Count - 1);
        }

        return stack;
    }

    private string Whole()
    {
        if (!File.Exists(path))
            return "";
        byte[] bytes = File.ReadAllBytes(path);
        return Encoding.UTF8.GetString(bytes, 0, Array.LastIndexOf(bytes, (byte)'\n') + 1);
    }

    private void Append(AcceptedLine line)
    {
        byte[] bytes = [.. JsonSerializer.SerializeToUtf8Bytes(line, AcceptedJson.Default.AcceptedLine), (byte)'\n'];
        lock (Writing)
        {
            long whole = Encoding.UTF8.GetByteCount(Whole());
            if (whole + bytes.Length > MostBytes)
                throw new IOException("too many layouts were accepted on this photo.");
            using (FileStream file = new(path, FileMode.OpenOrCreate, FileAccess.Write))
            {
                file.SetLength(whole);
                file.Position = whole;
                file.Write(bytes);
                file.Flush(flushToDisk: true);
            }

            if (whole == 0)
                Records.Storage.DiskFiles.Instance.FlushFolder(Path.GetDirectoryName(path)!);
        }
    }
}

/// <summary>A line of the file; without a layout: the last one is taken back.</summary>
internal sealed record AcceptedLine(AcceptedLayout? Layout);

[JsonSourceGenerationOptions(PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase)]
[JsonSerializable(typeof(AcceptedLine))]
[JsonSerializable(typeof(AcceptedLayout))]
internal sealed partial class AcceptedJson : JsonSerializerContext;
