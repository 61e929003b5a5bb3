using DeflectScan.Web.Storing;

namespace DeflectScan.Web.Measuring;

/// <summary>A file of the watched folder as it was last seen.</summary>
/// <param name="Bytes">Its size.</param>
/// <param name="WrittenAt">When it was last written to, UTC.</param>
/// <param name="Since">When it was first seen so, a timestamp of <see cref="TimeProvider"/>.</param>
/// <param name="IsDone">Nothing more is to be done while it stays so.</param>
/// <param name="Reason">Why it was not taken in, one sentence; null where there is nothing to say.</param>
internal sealed record WatchedFile(long Bytes, DateTime WrittenAt, long Since, bool IsDone, string? Reason)
{
    /// <summary>A file that looks cut off is waited for this many times as long: a phone's upload may pause (chosen).</summary>
    public const int CutRests = 15;

    /// <summary>Where a JPEG's end marker is looked for, bytes from the end: some cameras write more behind it (chosen).</summary>
    private const int Tail = 1 << 16;

    private static readonly HashSet<string> Read = new([".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif"], StringComparer.OrdinalIgnoreCase);

    /// <summary>Pictures that the library does not open: they are named, so that nobody waits for them.</summary>
    private static readonly HashSet<string> NotRead =
        new([".tif", ".tiff", ".bmp", ".gif", ".avif", ".jxl", ".dng", ".cr2", ".cr3", ".nef", ".arw", ".raf", ".rw2", ".orf"], StringComparer.OrdinalIgnoreCase);

    /// <summary>Whether a file is one to look at, by its name; hidden ones are not.</summary>
    public static bool IsPicture(string name) => name[0] != '.' && (Read.Contains(Path.GetExtension(name)) || NotRead.Contains(Path.GetExtension(name)));

    /// <summary>A file as it is seen now, after how it was seen before.</summary>
    /// <exception cref="IOException">It is gone.</exception>
    public static WatchedFile Of(FileInfo file, WatchedFile? before, long now, long maxBytes)
    {
        file.Refresh();
        if (before is not null && before.Bytes == file.Length && before.WrittenAt == file.LastWriteTimeUtc)
            return before;
        string? reason = file.Attributes.HasFlag(FileAttributes.ReparsePoint) ? "It is a link: put the photo itself into the folder."
            : NotRead.Contains(file.Extension) ? "This kind of picture is not read: save it as JPEG, PNG or WebP."
            : file.Length > maxBytes ? new UploadTooLargeException(maxBytes).Message
            : null;
        return new WatchedFile(file.Length, file.LastWriteTimeUtc, now, reason is not null, reason);
    }

    /// <summary>Whether it has stayed as it is for so long. An empty file never has: its content is still to come.</summary>
    public bool HasRested(TimeSpan rest) => Bytes > 0 && TimeProvider.System.GetElapsedTime(Since) >= rest;

    /// <summary>To be tried again after a rest.</summary>
    public WatchedFile Again(string reason) => this with { Since = TimeProvider.System.GetTimestamp(), Reason = reason };

    /// <summary>Whether the file ends as its kind does; of kinds without an end to look for it is taken so.</summary>
    /// <exception cref="IOException">It cannot be read.</exception>
    public bool LooksWhole(FileInfo file)
    {
        using FileStream stream = file.OpenRead();
        byte[] head = new byte[12];
        if (stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false) < head.Length)
            return false;
        if (head is [(byte)'R', (byte)'I', (byte)'F', (byte)'F', ..])
            return stream.Length >= BitConverter.ToUInt32(head, 4) + 8L; // RIFF: the size of what follows these eight bytes
        ReadOnlySpan<byte> end = head is [0xFF, 0xD8, ..] ? [0xFF, 0xD9] : head is [0x89, (byte)'P', (byte)'N', (byte)'G', ..] ? "IEND"u8 : [];
        byte[] tail = new byte[Math.Min(Tail, stream.Length)];
        stream.Seek(-tail.Length, SeekOrigin.End);
        stream.ReadExactly(tail);
        return tail.AsSpan().IndexOf(end) >= 0;
    }
}
