using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using DeflectScan.Records.Model;
using DeflectScan.Records.Storage;

namespace DeflectScan.Records.Transfer;

/// <summary>A zip file in the making that keeps each file's size and hash for the manifest.</summary>
internal sealed class ZipOut(Stream file) : IDisposable
{
    public static readonly JsonWriterOptions Readable = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The earliest that a zip file can say: the file's bytes do not hang on the clock.</summary>
    private static readonly DateTimeOffset NoTime = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    private readonly ZipArchive _zip = new(file, ZipArchiveMode.Create, leaveOpen: true, Encoding.UTF8);
    private readonly List<(string Path, long Bytes, string Sha256)> _files = [];

    public void Text(string name, string text) => Add(name, s => s.Write(Encoding.UTF8.GetBytes(text)));

    public string Add(string name, Action<Stream> write, CompressionLevel level = CompressionLevel.Optimal)
    {
        ZipArchiveEntry entry = _zip.CreateEntry(name, level);
        entry.LastWriteTime = NoTime;
        using Stream stream = entry.Open();
        using SumStream sum = new(stream);
        write(sum);
        sum.Flush();
        string sha256 = sum.Sha256();
        _files.Add((name, sum.Count, sha256));
        return sha256;
    }

    /// <summary>Copies a photo as it is.</summary>
    /// <exception cref="ArchiveException">Its bytes do not have the hash.</exception>
    public void Copy(string name, string path, string sha256)
    {
        using FileStream source = new(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 1 << 20);
        if (Add(name, s => source.CopyTo(s), CompressionLevel.NoCompression) != sha256)
            throw Faults.Damaged("a photo changed while it was being exported");
    }

    /// <param name="isSalvaged">What is damaged was left out: photos may be missing.</param>
    public void Manifest(bool isSalvaged)
    {
        ZipArchiveEntry entry = _zip.CreateEntry(ExportFormat.Manifest);
        entry.LastWriteTime = NoTime;
        using Stream stream = entry.Open();
        using Utf8JsonWriter json = new(stream, Readable);
        json.WriteStartObject();
        json.WriteString("schema", ExportFormat.Schema);
        json.WriteBoolean("salvaged", isSalvaged);
        json.WriteStartArray("files");
        foreach ((string path, long bytes, string sha256) in _files)
        {
            json.WriteStartObject();
            json.WriteString("path", path);
            json.WriteNumber("bytes", bytes);
            json.WriteString("sha256", sha256);
            json.WriteEndObject();
        }

        json.WriteEndArray();
        json.WriteEndObject();
    }

    public void Dispose() => _zip.Dispose();

    /// <summary>Counts and hashes what passes through to another stream.</summary>
    private sealed class SumStream(Stream inner) : Stream
    {
        private readonly IncrementalHash _hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);

        public long Count { get; private set; }

        public override bool CanRead => false;

        public override bool CanSeek => false;

        public override bool CanWrite => true;

        public override long Length => Count;

        public override long Position
        {
            get => Count;
            set => throw new NotSupportedException();
        }

        public string Sha256() => Convert.ToHexStringLower(_hash.GetHashAndReset());

        public override void Write(byte[] buffer, int offset, int count) => Write(buffer.AsSpan(offset, count));

        public override void Write(ReadOnlySpan<byte> buffer)
        {
            _hash.AppendData(buffer);
            Count += buffer.Length;
            inner.Write(buffer);
        }

        public override void Flush() => inner.Flush();

        public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        protected override void Dispose(bool disposing)
        {
            if (disposing)
                _hash.Dispose();
            base.Dispose(disposing);
        }
    }
}
