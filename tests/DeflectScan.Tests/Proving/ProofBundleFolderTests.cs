using System.IO.Compression;
using System.Text;
using DeflectScan.Measuring;
using DeflectScan.Proving;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Proofs;
using DeflectScan.Scenes;
using DeflectScan.Tests.Photos;
using DeflectScan.Tests.Pipeline;

namespace DeflectScan.Tests.Proving;

/// <summary>
/// Real proofs as builders send them: every bundle in the folder that the variable DEFLECTSCAN_PROOFS names is measured again, and its readings held against what this
/// program measures. Without that folder the one bundle is tested that the test makes itself, with made-up readings.
/// </summary>
[Collection(Measured.Collection)]
public class ProofBundleFolderTests
{
    public const string Variable = "DEFLECTSCAN_PROOFS";

    [Fact]
    public void EveryBundleStillHolds()
    {
        if (Environment.GetEnvironmentVariable(Variable) is not { Length: > 0 } folder)
            return; // nobody has sent any; ABundleIsMeasuredAgain guards the reading of them
        string[] bundles = [.. Directory.EnumerateFiles(folder, "*.zip").Order(StringComparer.Ordinal)];
        Assert.NotEmpty(bundles);
        Assert.All(bundles, b =>
        {
            ProofReport proof = Again(File.ReadAllBytes(b));
            Assert.True(proof.Verdict != ProofVerdict.Disagree, string.Join(' ', proof.Says.Concat(proof.Causes.Select(c => c.Says))));
        });
    }

    /// <summary>A rendered photo and readings made up from its truth, to the half millimetre.</summary>
    [Fact]
    public void ABundleIsMeasuredAgain()
    {
        Truth truth = Repository.Truth("clean-spinning");
        HandReading[] readings =
        [
            .. truth.Guides.Where(g => g.Kind != "tip").Select((g, i) => new HandReading(ReadingKind.Station, i + 1, null, Math.Round(g.FromTipMm), 1)),
            .. truth.Intervals.Skip(1).Take(3).Select((v, i) => new HandReading(ReadingKind.Gap, i + 1, i + 2, Math.Round(v.GapMm, 1), 0.3)),
        ];
        Measurement m = Measured.Photo("clean-spinning");
        byte[] photo = File.ReadAllBytes(Repository.Photo("clean-spinning"));
        byte[] zip = ProofBundle.Make(m, readings, ProofRule.Of(m, readings).Value!, photo).Value!;
        ProofReport again = Again(zip);
        Assert.Equal(ProofVerdict.Agree, again.Verdict);
        Assert.Equal(10, again.Readings.Count);
        Assert.True(ProofBundle.Make(m, readings, again, [1, 2, 3]).IsRefused);
    }

    private static ProofReport Again(byte[] zip)
    {
        using TempFolder folder = new();
        using ZipArchive entries = new(new MemoryStream(zip));
        ZipArchiveEntry picture = Assert.Single(entries.Entries, e => e.FullName is "photo.jpg" or "photo.png" or "photo.webp");
        byte[] photo = Bytes(picture);
        Measurement document = MeasurementJson.Read(Encoding.UTF8.GetString(Bytes(entries.GetEntry(ProofBundle.Document)!))).Value!;
        Assert.Equal(document.Photo!.Sha256, Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(photo)));
        Measurement again = MeasurePipeline.Measure(folder.File(picture.FullName, photo), MeasureOptions.Default with { GuideCount = document.Guides.Count - 1 });
        return ProofRule.Of(again, ReadingsCsv.Parse(Encoding.UTF8.GetString(Bytes(entries.GetEntry(ProofBundle.Readings)!))).Value!).Value!;
    }

    private static byte[] Bytes(ZipArchiveEntry entry)
    {
        using Stream stream = entry.Open();
        using MemoryStream copy = new();
        stream.CopyTo(copy);
        return copy.ToArray();
    }
}
