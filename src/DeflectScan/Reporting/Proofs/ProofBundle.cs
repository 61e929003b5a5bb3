using System.IO.Compression;
using System.Security.Cryptography;
using System.Text;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Proving;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Reporting.Proofs;

/// <summary>
/// A proof for other people as one zip file: <c>photo.jpg</c> (cleaned by <see cref="PlainPhoto"/>, its pixels untouched), <c>measurement.json</c> (of that very file),
/// <c>readings.csv</c>, <c>proof.json</c> and a README.
/// </summary>
public static class ProofBundle
{
    public const string Document = "measurement.json";
    public const string Readings = "readings.csv";

    private const long MostBytes = 200_000_000;

    private const string ReadMe = """
        A photo of a rod in the static deflection test, what deflectscan measured in it, and what a person read with tape and caliper.
        The photo's position, serial numbers, maker's notes and thumbnail are taken out; its pixels are as the camera coded them.
        To see it again: deflectscan measure photo.jpg, then deflectscan proof measurement.json --readings readings.csv
        """;

    /// <summary>A fixed time for all entries: the same contents give the same file.</summary>
    private static readonly DateTimeOffset Time = new(2000, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>The zip file's bytes, or why there is none.</summary>
    /// <param name="measurement">The document.</param>
    /// <param name="readings">As read.</param>
    /// <param name="proof">What they come to.</param>
    /// <param name="photo">The file that was measured, whole.</param>
    public static Outcome<byte[]> Make(Measurement measurement, IReadOnlyList<HandReading> readings, ProofReport proof, byte[] photo)
    {
        if (measurement.Photo is not { } info || Convert.ToHexStringLower(SHA256.HashData(photo)) != info.Sha256)
            return Outcome<byte[]>.Refused(FindingCode.FileUnreadable, "The photo is not the one that was measured: name the one that was.");
        Outcome<PlainPhoto> cleaned = PlainPhoto.Of(photo);
        if (cleaned.Value is not { } shared)
            return Outcome<byte[]>.Refused(cleaned.Findings);
        string name = "photo" + shared.Ending;
        Measurement ofShared = measurement with { Photo = info with { FileName = name, Sha256 = Convert.ToHexStringLower(SHA256.HashData(shared.Bytes)) } };
        using MemoryStream file = new();
        using (ZipArchive zip = new(file, ZipArchiveMode.Create, leaveOpen: true))
        {
            Add(zip, "README.txt", Encoding.UTF8.GetBytes(ReadMe + "\n"));
            Add(zip, Document, Encoding.UTF8.GetBytes(MeasurementJson.Write(ofShared)));
            Add(zip, Readings, Encoding.UTF8.GetBytes(ReadingsCsv.Write(readings)));
            Add(zip, "proof.json", Encoding.UTF8.GetBytes(ProofJson.Write(proof, ofShared)));
            Add(zip, name, shared.Bytes);
        }

        return Outcome<byte[]>.Of(file.ToArray());
    }

    /// <summary>The photo's file, whole, or why it cannot be had.</summary>
    public static Outcome<byte[]> ReadPhoto(string path)
    {
        try
        {
            FileInfo there = new(path);
            if (!there.Exists)
                return Outcome<byte[]>.Refused(FindingCode.FileUnreadable, "The measured photo is not beside the document: say where the photo lies.");
            return there.Length <= MostBytes
                ? Outcome<byte[]>.Of(File.ReadAllBytes(path))
                : Outcome<byte[]>.Refused(FindingCode.FileTooLarge, "The photo is larger than any that can be measured: name the one that was.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Outcome<byte[]>.Refused(FindingCode.FileUnreadable, "The measured photo cannot be read: check that you may read it.");
        }
    }

    private static void Add(ZipArchive zip, string name, byte[] bytes)
    {
        ZipArchiveEntry entry = zip.CreateEntry(name, CompressionLevel.Optimal);
        entry.LastWriteTime = Time;
        using Stream stream = entry.Open();
        stream.Write(bytes);
    }
}
