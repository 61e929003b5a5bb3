using System.Security.Cryptography;
using System.Text.Json;
using DeflectScan.Records;
using DeflectScan.Records.Model;
using DeflectScan.Records.Storage;

namespace DeflectScan.Web.Storing;

/// <summary>
/// The bench's photos on the disk, one folder a photo: <c>original/NAME</c>, <c>photo.json</c>, <c>marks.jsonl</c>, <c>results/</c>. A photo is made ready
/// in <c>incoming</c>, every byte of it flushed, and comes to its place by one rename: it is there as a whole or not at all.
/// </summary>
internal sealed class BenchFolder : IDisposable
{
    private const string About = "photo.json";
    private readonly FileStream _held;
    private readonly IDurableFiles _files;
    private readonly TimeProvider _clock;
    private readonly Lock _placing = new();

    public BenchFolder(string archiveFolder, IDurableFiles files, TimeProvider clock)
    {
        (_files, _clock) = (files, clock);
        Root = Path.Combine(Path.GetFullPath(archiveFolder), "bench");
        Directory.CreateDirectory(Root);
        _held = Hold(Path.Combine(Root, "bench.lock"));
        if (Directory.Exists(Incoming))
            Directory.Delete(Incoming, recursive: true); // what was never acknowledged
        Directory.CreateDirectory(Incoming);
        files.FlushFolder(Path.GetDirectoryName(Root)!);
        files.FlushFolder(Root);
    }

    public string Root { get; }

    private string Incoming => Path.Combine(Root, "incoming");

    public void Dispose() => _held.Dispose();

    public string FolderOf(string id) => Path.Combine(Root, id);

    public string Original(StoredPhoto photo) => Path.Combine(FolderOf(photo.Id), "original", photo.Name);

    /// <summary>Every photo, the newest first. What cannot be read is passed over: it was not written by this program.</summary>
    public IReadOnlyList<StoredPhoto> All() =>
        [.. Directory.EnumerateDirectories(Root).Select(Read).OfType<StoredPhoto>().OrderByDescending(p => p.ReceivedAt).ThenBy(p => p.Id, StringComparer.Ordinal)];

    /// <summary>Keeps a photo; it is on the disk when this returns. One whose bytes are here already is not kept twice.</summary>
    /// <exception cref="UploadTooLargeException">More bytes than are taken; nothing is kept.</exception>
    /// <param name="body">The file.</param>
    /// <param name="name">Its name, cleaned.</param>
    /// <param name="maxBytes">As many are taken.</param>
    /// <param name="classId">The class that it is sent to; null for the bench.</param>
    /// <param name="cancel">Given up: nothing is kept.</param>
    public async Task<(StoredPhoto Photo, bool IsNew)> Add(Stream body, string name, long maxBytes, string? classId, CancellationToken cancel)
    {
        string folder = Path.Combine(Incoming, Path.GetRandomFileName());
        string inner = Path.Combine(folder, "original");
        Directory.CreateDirectory(inner);
        try
        {
            (string sha256, long bytes) = await Receive(body, Path.Combine(inner, name), maxBytes, cancel);
            StoredPhoto photo = new(sha256[..16], name, sha256, bytes, _clock.GetUtcNow(), IsAside: false, classId);
            DurableWrite.Bytes(_files, Path.Combine(folder, About), JsonSerializer.SerializeToUtf8Bytes(photo, StoredJson.Default.StoredPhoto));
            _files.FlushFolder(inner);
            lock (_placing)
            {
                if (Read(FolderOf(photo.Id)) is { } known)
                    return known.Sha256 == sha256 ? (known, false) : throw new IOException("Two photos have the same first digits of their hash.");
                Directory.Move(folder, FolderOf(photo.Id));
                _files.FlushFolder(Root);
                return (photo, true);
            }
        }
        finally
        {
            if (Directory.Exists(folder))
                Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Takes a photo off the disk with everything that was made of it: out of its place by one rename, so that never half of it is there.</summary>
    public void Remove(string id)
    {
        string going = Path.Combine(Incoming, Path.GetRandomFileName());
        lock (_placing)
        {
            if (!Directory.Exists(FolderOf(id)))
                return;
            Directory.Move(FolderOf(id), going);
            _files.FlushFolder(Root);
        }

        Directory.Delete(going, recursive: true);
    }

    /// <summary>Writes anew what is kept of a photo.</summary>
    public void Revise(StoredPhoto photo) =>
        DurableWrite.Bytes(_files, Path.Combine(FolderOf(photo.Id), About), JsonSerializer.SerializeToUtf8Bytes(photo, StoredJson.Default.StoredPhoto));

    /// <summary>A result's bytes, or null where there is none.</summary>
    public byte[]? Result(string id, string file)
    {
        string path = Path.Combine(FolderOf(id), "results", file);
        return File.Exists(path) ? File.ReadAllBytes(path) : null;
    }

    public void WriteResult(string id, string file, byte[] bytes)
    {
        lock (_placing)
        {
            if (!Directory.Exists(FolderOf(id)))
                return; // the photo was taken away while it was measured
            string folder = Path.Combine(FolderOf(id), "results");
            if (!Directory.Exists(folder))
            {
                Directory.CreateDirectory(folder);
                _files.FlushFolder(FolderOf(id));
            }

            DurableWrite.Bytes(_files, Path.Combine(folder, file), bytes);
        }
    }

    private async Task<(string Sha256, long Bytes)> Receive(Stream body, string path, long maxBytes, CancellationToken cancel)
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        byte[] block = new byte[1 << 18];
        long bytes = 0;
        using FileStream file = _files.Create(path);
        int read;
        while ((read = await body.ReadAsync(block, cancel)) > 0)
        {
            bytes += read;
            if (bytes > maxBytes)
                throw new UploadTooLargeException(maxBytes);
            hash.AppendData(block, 0, read);
            _files.Write(file, block.AsSpan(0, read));
        }

        _files.Flush(file);
        return (Convert.ToHexStringLower(hash.GetHashAndReset()), bytes);
    }

    private static FileStream Hold(string path)
    {
        try
        {
            return new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e)
        {
            throw new ArchiveException(ArchiveProblem.InUse, "This archive's page is served already: use its page, or end it first.", e);
        }
    }

    private static StoredPhoto? Read(string folder)
    {
        string about = Path.Combine(folder, About);
        if (!File.Exists(about))
            return null;
        try
        {
            StoredPhoto? photo = JsonSerializer.Deserialize(File.ReadAllBytes(about), StoredJson.Default.StoredPhoto);
            return photo is not null && photo.Id == Path.GetFileName(folder) && photo.Name == FileNames.Clean(photo.Name) ? photo : null;
        }
        catch (JsonException)
        {
            return null;
        }
    }
}

/// <summary>An upload with more bytes than are taken.</summary>
internal sealed class UploadTooLargeException(long maxBytes) : Exception($"The file is larger than {maxBytes / 1_000_000} MB: take the photo at a lower resolution.");
