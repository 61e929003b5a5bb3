using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;
using System.Text.RegularExpressions;

namespace DeflectScan.Records.Transfer;

/// <summary>
/// What makes a zip file an export: its manifest, the names in it, and a zip comment with the hash of every byte before it, so that no byte
/// of the file can change unnoticed.
/// </summary>
internal static partial class ExportFormat
{
    public const string Schema = "deflectscan.export/1";
    public const string Manifest = "manifest.json";
    public const string ReadMe = "README.txt";

    /// <summary>Largest photo that is taken in, larger than any that can be measured.</summary>
    public const long MaxPhotoBytes = 500_000_000;

    /// <summary>Largest table that is taken in.</summary>
    public const long MaxTableBytes = 2_000_000_000;

    private const string CommentHead = "deflectscan-export sha256 ";
    private const int CommentBytes = 26 + 64;

    /// <summary>A zip file's end record without its comment: APPNOTE 4.3.16, 22 bytes, the comment's length in the last two.</summary>
    private const int EndRecordBytes = 22;

    public static string Table(string name) => $"tables/{name}.json";

    public static string Csv(string name) => $"csv/{name}.csv";

    public static string Document(string sha256) => $"documents/{sha256}.json";

    public static string Photo(string sha256, string extension) => $"photos/{sha256}{extension}";

    /// <summary>Names that may stand in an export; nothing is ever written under a name from the file.</summary>
    public static bool IsKnownName(string name) => KnownName().IsMatch(name);

    /// <summary>Closes a finished zip file that has no comment yet.</summary>
    public static void Close(FileStream file)
    {
        Span<byte> length = stackalloc byte[2];
        BinaryPrimitives.WriteUInt16LittleEndian(length, CommentBytes);
        file.Position = file.Length - 2;
        file.Write(length);
        string hash = HashOfFirst(file, file.Length);
        file.Position = file.Length;
        file.Write(Encoding.ASCII.GetBytes(CommentHead + hash));
    }

    /// <summary>Whether every byte of a file is as <see cref="Close"/> left it.</summary>
    public static bool IsWhole(FileStream file)
    {
        long end = file.Length - CommentBytes;
        if (end < EndRecordBytes)
            return false;
        byte[] tail = new byte[EndRecordBytes + CommentBytes];
        file.Position = end - EndRecordBytes;
        file.ReadExactly(tail);
        bool hasEnd = tail.AsSpan(0, 4).SequenceEqual("PK\u0005\u0006"u8)
            && BinaryPrimitives.ReadUInt16LittleEndian(tail.AsSpan(EndRecordBytes - 2)) == CommentBytes;
        return hasEnd && Encoding.ASCII.GetString(tail, EndRecordBytes, CommentBytes) == CommentHead + HashOfFirst(file, end);
    }

    private static string HashOfFirst(FileStream file, long count)
    {
        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        byte[] block = new byte[1 << 20];
        file.Position = 0;
        while (count > 0)
        {
            int read = file.Read(block, 0, (int)Math.Min(block.Length, count));
            if (read == 0)
                throw new EndOfStreamException();
            hash.AppendData(block, 0, read);
            count -= read;
        }

        return Convert.ToHexStringLower(hash.GetHashAndReset());
    }

    [GeneratedRegex(@"\A(README\.txt|manifest\.json|tables/[a-z_]{1,40}\.json|csv/[a-z_]{1,40}\.csv|documents/[0-9a-f]{64}\.json|photos/[0-9a-f]{64}\.[a-z]{1,8})\z", RegexOptions.NonBacktracking | RegexOptions.ExplicitCapture)]
    private static partial Regex KnownName();
}
