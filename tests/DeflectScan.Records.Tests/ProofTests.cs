using DeflectScan.Nightly.Archives;
using DeflectScan.Proving;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Records.Transfer;
using MathNet.Numerics.Distributions;

namespace DeflectScan.Records.Tests;

/// <summary>Proofs by hand readings, kept with builds and summed up.</summary>
public class ProofTests
{
    [Fact]
    public void AProofIsKeptWithItsMeasurementAndGoesWhereTheBuildGoes()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        string build;
        using (ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]))
        {
            build = writer.AddBuild(MadeUp.Facts(1));
            NewMeasurement made = MadeUp.Measurement(MadeUp.Photo(scratch.Folder("p"), 1), 1);
            string measurement = writer.AddMeasurement(build, made).Id;
            ProofKeeping.Add(writer, build, made.Measurement, Proof(made.Measurement, 0.5));
            StoredProof kept = Assert.Single(writer.Reader.Build(build)!.Proofs);
            Assert.Equal((measurement, "Example Phone", "A, C", ProofVerdict.Agree), (kept.MeasurementId, kept.Camera, kept.Cards, kept.Verdict));
            Assert.Equal((402.5, 1, 402, 1.4), (kept.Readings[0].Reading.Mm, kept.Readings[0].Reading.UncertaintyMm, kept.Readings[0].PhotoMm, kept.Readings[0].PhotoUncertaintyMm));
            Assert.Contains("\"en\"", BuildJson.Write(writer.Reader, writer.Reader.Build(build)!).Replace("largest_en", "en", StringComparison.Ordinal), StringComparison.Ordinal);
            Assert.Contains(BuildCsv.Write(writer.Reader, writer.Reader.Build(build)!), t => t.Name == "proof_readings.csv");
            ExportFile.Write(writer.Reader, scratch["a.zip"]);
        }

        Assert.True(ArchiveCheck.Run(scratch["a"]).IsClean);
        Archive.Create(scratch["b"]);
        using ArchiveWriter other = Archive.OpenForWriting(scratch["b"]);
        ImportFile.Read(other, scratch["a.zip"]);
        Assert.Equal(3, Assert.Single(other.Reader.Build(build)!.Proofs).Readings.Count);
    }

    [Fact]
    public void APhotoThatTheBuildDoesNotHaveIsRefused()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        string build = writer.AddBuild(MadeUp.Facts(1));
        Measurement m = MadeUp.Measurement(MadeUp.Photo(scratch.Folder("p"), 1), 1).Measurement;
        Assert.Contains("no measurement of that photo", Assert.Throws<ArchiveException>(() => ProofKeeping.Add(writer, build, m, Proof(m, 0))).Message, StringComparison.Ordinal);
    }

    /// <summary>The latest proof of each measurement counts, one set aside does not; the interval is chi-square's own, by MathNet's distribution.</summary>
    [Fact]
    public void ProofsAreSummedUpForEachCameraAndSetOfCards()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        string photos = scratch.Folder("p");
        double sum = 0;
        string last = "", lastBuild = "";
        for (int i = 1; i <= 3; i++)
        {
            lastBuild = writer.AddBuild(MadeUp.Facts(i));
            NewMeasurement made = MadeUp.Measurement(MadeUp.Photo(photos, i), 1);
            last = writer.AddMeasurement(lastBuild, made).Id;
            ProofKeeping.Add(writer, lastBuild, made.Measurement, Proof(made.Measurement, 100)); // a slip, read again
            ProofReport right = Proof(made.Measurement, 0.1 * i);
            ProofKeeping.Add(writer, lastBuild, made.Measurement, right);
            sum += i < 3 ? right.ChiSquare : 0;
        }

        writer.SetAside(lastBuild, last, "another rod");
        ProvedSet set = Assert.Single(writer.Reader.ProvedSets());
        Assert.Equal((2, 2, 6, 0), (set.Rods, set.Proofs, set.Readings, set.Disagreeing));
        Assert.Equal(sum, set.ChiSquare, 9);
        Assert.True(set.IsProved);
        Assert.Equal(Math.Sqrt(6 / sum), set.Stated!.Ratio, 9);
        Assert.Equal(0.025, ChiSquared.CDF(6, set.Stated.Low * set.Stated.Low * sum), 6);
        Assert.Equal(0.975, ChiSquared.CDF(6, set.Stated.High * set.Stated.High * sum), 6);
    }

    /// <summary>What measure says: nothing without an archive or with an older or damaged one, else whether this camera and these cards are proved.</summary>
    [Fact]
    public void MeasureIsToldInOneLine()
    {
        using Scratch scratch = new();
        Measurement m = MadeUp.Measurement(MadeUp.Photo(scratch.Folder("p"), 1), 1).Measurement;
        Assert.Null(ProofKeeping.LineFor(scratch["none"], m));
        Scratch.Copy(Path.Combine(AppContext.BaseDirectory, "fixtures", "schema-3"), scratch["old"]);
        byte[] before = File.ReadAllBytes(scratch["old/records.db"]);
        Assert.Null(ProofKeeping.LineFor(scratch["old"], m));
        Assert.Equal(before, File.ReadAllBytes(scratch["old/records.db"]));
        Directory.CreateDirectory(scratch["bad"]);
        File.WriteAllText(scratch["bad/records.db"], "no database");
        Assert.Null(ProofKeeping.LineFor(scratch["bad"], m));

        Archive.Create(scratch["a"]);
        using (ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]))
        {
            string build = writer.AddBuild(MadeUp.Facts(1));
            NewMeasurement made = MadeUp.Measurement(MadeUp.Photo(scratch["p"], 1), 1);
            writer.AddMeasurement(build, made);
            Assert.Null(ProofKeeping.LineFor(scratch["a"], m));
            ProofKeeping.Add(writer, build, made.Measurement, Proof(made.Measurement, 0.5));
        }

        Assert.StartsWith("Proved by hand with this camera and these cards: 1 rod, 3 readings", ProofKeeping.LineFor(scratch["a"], m), StringComparison.Ordinal);
        Assert.StartsWith("Not proved yet", ProofKeeping.LineFor(scratch["a"], m with { Photo = m.Photo! with { CameraModel = "Another" } }), StringComparison.Ordinal);
    }

    private static ProofReport Proof(Measurement m, double offMm) => ProofRule.Of(
        m,
        [
            new HandReading(ReadingKind.Station, 1, null, 402 + offMm, 1), new HandReading(ReadingKind.Station, 2, null, 215, 1),
            new HandReading(ReadingKind.Gap, 1, 2, m.Intervals[0].GapMm + 0.1, 0.3),
        ]).Value!;
}
