using System.Text;

namespace DeflectScan.Web.Storing;

/// <summary>
/// A file of lines that is only added to; a line is flushed before it is acknowledged. A last line without its end, from a process that was killed, was never
/// acknowledged and is cut off.
/// </summary>
/// <param name="path">The file; it need not be there.</param>
/// <param name="flushFolder">Puts a folder's entry of a new file on the disk.</param>
internal sealed class LineLog(string path, Action<string> flushFolder)
{
    /// <summary>The whole lines, after a half one is cut off.</summary>
    public string[] Read()
    {
        if (!File.Exists(path))
            return [];
        byte[] bytes = File.ReadAllBytes(path);
        int whole = Array.LastIndexOf(bytes, (byte)'\n') + 1;
        if (whole < bytes.Length)
        {
            using FileStream file = new(path, FileMode.Open, FileAccess.Write);
            file.SetLength(whole);
            file.Flush(flushToDisk: true);
        }

        return Encoding.UTF8.GetString(bytes, 0, whole).Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }

    /// <param name="line">UTF-8, without its end.</param>
    public void Append(byte[] line)
    {
        bool isNew = !File.Exists(path);
        using (FileStream file = new(path, FileMode.Append, FileAccess.Write))
        {
            file.Write([.. line, (byte)'\n']);
            file.Flush(flushToDisk: true);
        }

        if (isNew)
            flushFolder(Path.GetDirectoryName(path)!);
    }
}
