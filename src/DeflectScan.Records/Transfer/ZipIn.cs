using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using System.Text.Json.Serialization;
using DeflectScan.Findings;
using DeflectScan.Records.Model;

namespace DeflectScan.Records.Transfer;

/// <summary>An export that is read: opened only if every byte is as it was written and every file in it is as the manifest says.</summary>
internal sealed class ZipIn : IDisposable
{
    private const long MaxManifestBytes = 200_000_000;

    private readonly FileStream _file;
    private readonly ZipArchive _zip;
    private readonly Dictionary<string, ZipArchiveEntry> _entries = [];

    private ZipIn(FileStream file, ZipArchive zip) => (_file, _zip) = (file, zip);

    /// <summary>What was damaged was left out of it: photos may be missing.</summary>
    public bool IsSalvaged { get; private set; }

    /// <exception cref="ArchiveException">No export, or not as it was written.</exception>
    public static ZipIn Open(string path)
    {
        FileStream? file = null;
        try
        {
            file = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 1 << 16);
            if (!ExportFormat.IsWhole(file))
                throw Refused("The file is no export, or it was cut, changed or repacked after it was exported: get it again; nothing was imported.");
            file.Position = 0;
            ZipIn zip = new(file, new ZipArchive(file, ZipArchiveMode.Read, leaveOpen: true, Encoding.UTF8));
            zip.ReadManifest();
            return zip;
        }
        catch (Exception e)
        {
            file?.Dispose();
            if (e is InvalidDataException or JsonException or KeyNotFoundException or InvalidOperationException or InputException)
                throw Refused("The file is no export of this program: nothing was imported.", e);
            if (e is FileNotFoundException or DirectoryNotFoundException)
                throw Refused("There is no such file: check the export's name and folder.", e);
            if (e is UnauthorizedAccessException)
                throw Refused("The export cannot be read: check that it is a file that you may read.", e);
            throw;
        }
    }

    public bool Has(string name) => _entries.ContainsKey(name);

    public Stream Read(string name) => _entries.TryGetValue(name, out ZipArchiveEntry? entry)
        ? entry.Open()
        : throw Refused($"The export lacks {name}: nothing was imported.");

    public string ReadText(string name)
    {
        using StreamReader reader = new(Read(name), new UTF8Encoding(false, throwOnInvalidBytes: true));
        return reader.ReadToEnd();
    }

    /// <summary>The elements of a JSON list, one after the other.</summary>
    public IEnumerable<JsonElement> ReadList(string name)
    {
        using Stream stream = Read(name);
        foreach (JsonElement element in JsonSerializer.DeserializeAsyncEnumerable(stream, JsonElements.Default.JsonElement).ToBlockingEnumerable())
            yield return element;
    }

    public void Dispose()
    {
        _zip.Dispose();
        _file.Dispose();
    }

    internal static ArchiveException Refused(string message, Exception? cause = null) => new(ArchiveProblem.Refused, message, cause);

    private void ReadManifest()
    {
        ZipArchiveEntry manifest = _zip.GetEntry(ExportFormat.Manifest) ?? throw new InvalidDataException("No manifest.");
        if (manifest.Length > MaxManifestBytes)
            throw new InvalidDataException("The manifest is too large.");
        using Stream stream = manifest.Open();
        using JsonDocument document = JsonDocument.Parse(stream);
        JsonElement root = document.RootElement;
        if (root.GetProperty("schema").GetString() != ExportFormat.Schema)
            throw Refused("The export was made by another version of this program that this one cannot read: bring this program up to date; nothing was imported.");
        IsSalvaged = root.GetProperty("salvaged").GetBoolean();
        foreach (ZipArchiveEntry entry in _zip.Entries)
        {
            if (!ExportFormat.IsKnownName(entry.FullName) || !_entries.TryAdd(entry.FullName, entry))
                throw new InvalidDataException("A file that does not belong in an export.");
        }

        int listed = 1;
        foreach (JsonElement file in root.GetProperty("files").EnumerateArray())
        {
            CheckFile(file.GetProperty("path").GetString()!, file.GetProperty("bytes").GetInt64(), file.GetProperty("sha256").GetString()!);
            listed++;
        }

        if (listed != _entries.Count)
            throw new InvalidDataException("Files that the manifest does not list.");
    }

    private void CheckFile(string name, long bytes, string sha256)
    {
        long most = name.StartsWith("photos/", StringComparison.Ordinal) ? ExportFormat.MaxPhotoBytes : ExportFormat.MaxTableBytes;
        if (bytes > most || !_entries.TryGetValue(name, out ZipArchiveEntry? entry))
            throw new InvalidDataException("The manifest lists what is not there.");
        using Stream stream = entry.Open();
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        byte[] block = new byte[1 << 16];
        long count = 0;
        int read;
        while ((read = stream.Read(block)) > 0 && (count += read) <= bytes)
            hash.AppendData(block, 0, read);
        if (count != bytes || Convert.ToHexStringLower(hash.GetHashAndReset()) != sha256)
            throw Refused($"{name} in the export is not what the manifest says: get the export again; nothing was imported.");
    }
}

/// <summary>How one element of a list is read, its code made by the compiler.</summary>
[JsonSerializable(typeof(JsonElement))]
internal sealed partial class JsonElements : JsonSerializerContext;
