using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using DeflectScan.Records.Model;

namespace DeflectScan.Records.Storage;

/// <summary>The measurement documents in the database, packed, by the hash of their text.</summary>
internal static class Documents
{
    /// <summary>Longest document that is unpacked: far above any that a photo gives, far below what would hurt.</summary>
    public const int MaxBytes = 64 << 20;

    public static string HashOf(string text) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text)));

    public static string Add(Database database, string text)
    {
        string sha256 = HashOf(text);
        database.Execute("INSERT INTO documents (sha256, packed) VALUES ($1, $2) ON CONFLICT DO NOTHING", sha256, Pack(text));
        WorstPairs.Add(database, sha256, WorstPairs.Of(text));
        return sha256;
    }

    /// <exception cref="ArchiveException">It is missing or not what was written.</exception>
    public static string Read(Database database, string sha256) =>
        database.Scalar("SELECT packed FROM documents WHERE sha256 = $1", sha256) is byte[] packed && Unpack(packed) is { } text && HashOf(text) == sha256
            ? text
            : throw Faults.Damaged("a measurement's document is missing or not what was written");

    public static byte[] Pack(string text)
    {
        using MemoryStream packed = new();
        using (BrotliStream stream = new(packed, CompressionLevel.Optimal, leaveOpen: true))
            stream.Write(Encoding.UTF8.GetBytes(text));
        return packed.ToArray();
    }

    /// <summary>The text, or null where the bytes are no packed text.</summary>
    public static string? Unpack(byte[] packed)
    {
        try
        {
            using BrotliStream stream = new(new MemoryStream(packed), CompressionMode.Decompress);
            using MemoryStream text = new();
            byte[] block = new byte[1 << 16];
            int read;
            while ((read = stream.Read(block)) > 0)
            {
                if (text.Length + read > MaxBytes)
                    return null;
                text.Write(block, 0, read);
            }

            return new UTF8Encoding(false, throwOnInvalidBytes: true).GetString(text.GetBuffer(), 0, (int)text.Length);
        }
        catch (Exception e) when (e is InvalidDataException or InvalidOperationException or ArgumentException or IOException)
        {
            return null;
        }
    }
}
