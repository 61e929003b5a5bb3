using System.Security.Cryptography;
using System.Text;

namespace DeflectScan.Records.Storage;

/// <summary>
/// Hashes of a database's pages, made when the last one that wrote closed it: what tells a flipped byte anywhere in the file, used or not.
/// A text file: a line with the page size and the file's length, a line of 16 hex digits for each page, a line with the hash of all before.
/// </summary>
internal static class PageSeal
{
    private const int PageBytes = 4096;
    private const int SumBytes = 8;
    private const string Head = "deflectscan.seal/1";

    /// <summary>How a file and its seal agree. Pages count from 1.</summary>
    /// <param name="IsThere">There is a seal: the archive was closed.</param>
    /// <param name="SealIsWhole">The seal itself is what was written.</param>
    /// <param name="ChangedPages">Pages that are not what was written.</param>
    internal sealed record Verdict(bool IsThere, bool SealIsWhole, IReadOnlyList<long> ChangedPages)
    {
        public bool IsWhole => IsThere && SealIsWhole && ChangedPages.Count == 0;
    }

    public static void Write(IDurableFiles files, ArchivePaths paths)
    {
        StringBuilder text = new();
        long length = new FileInfo(paths.Database).Length;
        text.Append($"{Head} {PageBytes} {length}\n");
        foreach (string page in Pages(paths.Database))
            text.Append(page).Append('\n');
        string body = text.ToString();
        DurableWrite.Bytes(files, paths.Seal, Encoding.ASCII.GetBytes(body + HashLine(body)));
    }

    /// <summary>Breaks the seal before the first change, so that a seal always speaks of the file beside it.</summary>
    public static void Break(IDurableFiles files, ArchivePaths paths)
    {
        files.Delete(paths.Seal);
        files.FlushFolder(paths.Folder);
    }

    public static Verdict Check(ArchivePaths paths)
    {
        if (!File.Exists(paths.Seal))
            return new Verdict(false, false, []);
        string text = Encoding.Latin1.GetString(File.ReadAllBytes(paths.Seal));
        int last = text.Length > 1 ? text.LastIndexOf('\n', text.Length - 2) + 1 : 0;
        if (last == 0 || text[last..] != HashLine(text[..last]))
            return new Verdict(true, false, []);
        string[] lines = text[..last].Split('\n', StringSplitOptions.RemoveEmptyEntries);
        long length = long.Parse(lines[0].Split(' ')[^1]);
        List<long> changed = [];
        long number = 0;
        foreach (string page in Pages(paths.Database))
        {
            number++;
            if (number >= lines.Length || lines[number] != page)
                changed.Add(number);
        }

        for (long missing = number + 1; missing < lines.Length; missing++)
            changed.Add(missing);
        if (changed.Count == 0 && new FileInfo(paths.Database).Length != length)
            changed.Add(Math.Max(1, number));
        return new Verdict(true, true, changed);
    }

    private static string HashLine(string body) => Convert.ToHexStringLower(SHA256.HashData(Encoding.Latin1.GetBytes(body))) + "\n";

    private static IEnumerable<string> Pages(string path)
    {
        using FileStream file = new(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite, bufferSize: 1 << 20);
        byte[] page = new byte[PageBytes];
        int read;
        while ((read = file.ReadAtLeast(page, PageBytes, throwOnEndOfStream: false)) > 0)
            yield return Convert.ToHexStringLower(SHA256.HashData(page.AsSpan(0, read)).AsSpan(0, SumBytes));
    }
}
