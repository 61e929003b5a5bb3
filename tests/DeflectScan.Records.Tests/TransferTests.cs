using System.Diagnostics;
using System.Globalization;
using System.IO.Compression;
using System.Text;
using System.Text.Json;
using CsvHelper;
using CsvHelper.Configuration;
using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;
using DeflectScan.Records.Transfer;

namespace DeflectScan.Records.Tests;

public class TransferTests
{
    [Fact]
    public void ExportThenImportIntoAnEmptyArchiveIsEqual()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 5);
        Export(scratch["a"], scratch["a.zip"]);
        Archive.Create(scratch["b"]);
        ImportReport report = Import(scratch["b"], scratch["a.zip"]);
        Assert.Equal((5, 10, 10, 0), (report.Builds, report.Measurements, report.Photos, report.SameRows));
        Assert.Equal(State.Of(scratch["a"]), State.Of(scratch["b"]));
        Assert.True(ArchiveCheck.Run(scratch["b"]).IsClean);
        Export(scratch["b"], scratch["b.zip"]);
        Assert.Equal(File.ReadAllBytes(scratch["a.zip"]), File.ReadAllBytes(scratch["b.zip"]));
    }

    [Fact]
    public void MergingLosesNothingAndDuplicatesNothing()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 2);
        Scratch.Copy(scratch["a"], scratch["b"]);
        Change(scratch["a"], scratch["p"], 50, "said in a");
        Change(scratch["b"], scratch["p"], 60, "said in b");
        string[] both = [.. State.Of(scratch["a"]).Union(State.Of(scratch["b"])).Order(StringComparer.Ordinal)];
        Export(scratch["a"], scratch["a.zip"]);
        Export(scratch["b"], scratch["b.zip"]);

        Import(scratch["a"], scratch["b.zip"]);
        Import(scratch["b"], scratch["a.zip"]);
        string[] merged = State.Of(scratch["a"]);
        Assert.Equal(merged, State.Of(scratch["b"]));
        Assert.Equal(both, merged.Distinct().Order(StringComparer.Ordinal));
        Assert.Equal(0, Import(scratch["a"], scratch["b.zip"]).Rows);
        Assert.Equal(merged, State.Of(scratch["a"]));
        Assert.True(ArchiveCheck.Run(scratch["a"]).IsClean);
        using ArchiveReader reader = Archive.OpenForReading(scratch["a"]);
        Assert.Equal(3, reader.Build(reader.Resolve("said in b"))!.History.Count);
    }

    [Fact]
    public void AnyChangedOrMissingByteOfAnExportIsRefused()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 1);
        Export(scratch["a"], scratch["a.zip"]);
        Archive.Create(scratch["b"]);
        string[] empty = State.Of(scratch["b"]);
        byte[] whole = File.ReadAllBytes(scratch["a.zip"]);
        Random random = new(1);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["b"]);
        for (int i = 0; i < 400; i++)
        {
            int at = i < 120 ? whole.Length - 1 - i : random.Next(whole.Length);
            byte[] changed = random.Next(5) == 0 ? [.. whole[..at], .. whole[(at + 1)..]] : [.. whole[..at], (byte)(whole[at] ^ random.Next(1, 256)), .. whole[(at + 1)..]];
            File.WriteAllBytes(scratch["changed.zip"], changed);
            Assert.Equal(ArchiveProblem.Refused, Assert.Throws<ArchiveException>(() => ImportFile.Read(writer, scratch["changed.zip"])).Problem);
        }

        Assert.Equal(empty, State.Of(scratch["b"]));
    }

    [Fact]
    public void ARefusedImportLeavesNothingBehind()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 2);
        Export(scratch["a"], scratch["a.zip"]);
        Archive.Create(scratch["b"]);

        // The last row of the last table does not fit: all photos and rows before it must go again.
        Forge(scratch["a.zip"], scratch["forged.zip"], "tables/notes.json", text => text.Replace("\"kind\": \"test-cast\"", "\"kind\": \"spell\"", StringComparison.Ordinal));
        Assert.Equal(ArchiveProblem.Refused, Assert.Throws<ArchiveException>(() => Import(scratch["b"], scratch["forged.zip"])).Problem);
        Forge(scratch["a.zip"], scratch["forged.zip"], "tables/builds.json", _ => "[]");
        Assert.Equal(ArchiveProblem.Refused, Assert.Throws<ArchiveException>(() => Import(scratch["b"], scratch["forged.zip"])).Problem);
        Assert.Empty(Directory.EnumerateFiles(scratch["b/photos"], "*", SearchOption.AllDirectories));
        Assert.Empty(State.Of(scratch["b"]));

        Import(scratch["b"], scratch["a.zip"]);
        Forge(scratch["a.zip"], scratch["forged.zip"], "tables/revisions.json", text => text.Replace("Build 1", "Bu1ld 1", StringComparison.Ordinal));
        Assert.Contains("is not the one that is here", Assert.Throws<ArchiveException>(() => Import(scratch["b"], scratch["forged.zip"])).Message, StringComparison.Ordinal);
        Assert.Equal(State.Of(scratch["a"]), State.Of(scratch["b"]));
    }

    [Fact]
    public void UnzipOpensItAndTheManifestIsTrue()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 2);
        Export(scratch["a"], scratch["a.zip"]);
        ZipFile.ExtractToDirectory(scratch["a.zip"], scratch["out"]);
        JsonElement manifest = JsonDocument.Parse(File.ReadAllText(scratch["out/manifest.json"])).RootElement;
        string[] listed = [.. manifest.GetProperty("files").EnumerateArray().Select(f => f.GetProperty("path").GetString()!)];
        Assert.All(manifest.GetProperty("files").EnumerateArray(), f => Assert.Equal(f.GetProperty("sha256").GetString(), PhotoStore.HashOf(scratch["out/" + f.GetProperty("path").GetString()])));
        Assert.Equal(
            listed.Append("manifest.json").Order(StringComparer.Ordinal),
            Directory.EnumerateFiles(scratch["out"], "*", SearchOption.AllDirectories).Select(f => Path.GetRelativePath(scratch["out"], f)).Order(StringComparer.Ordinal));
        if (File.Exists("/usr/bin/unzip"))
        {
            using Process unzip = Process.Start(new ProcessStartInfo("/usr/bin/unzip", ["-tqq", scratch["a.zip"]]) { UseShellExecute = false, RedirectStandardOutput = true })!;
            unzip.StandardOutput.ReadToEnd();
            unzip.WaitForExit();
            Assert.Equal(0, unzip.ExitCode);
        }
    }

    [Fact]
    public void EveryCsvTableReadsBackThroughAReferenceReader()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 6);
        Export(scratch["a"], scratch["a.zip"]);
        using ZipArchive zip = ZipFile.OpenRead(scratch["a.zip"]);
        using ArchiveReader reader = Archive.OpenForReading(scratch["a"]);
        foreach (TableSpec table in Tables.All)
        {
            // CsvHelper in its RFC 4180 mode.
            List<string[]> read = ReadCsv(zip, ExportFormat.Csv(table.Name));
            Assert.Equal(table.Columns.Select(c => c.Name), read[0]);
            string[][] expected = [.. FactTables.Stream(reader.Database, table).Select(r => r.Values.Select(v => v is double d ? d.ToString("R", CultureInfo.InvariantCulture) : v?.ToString() ?? "").ToArray())];
            Assert.Equal(expected, read.Skip(1));
        }

        Assert.Equal(1 + (12 * 2), ReadCsv(zip, "csv/pairs.csv").Count);
        Assert.Equal(1 + (12 * 3), ReadCsv(zip, "csv/measured_guides.csv").Count);
        byte[] bytes = new byte[zip.GetEntry("csv/revisions.csv")!.Length];
        using Stream stream = zip.GetEntry("csv/revisions.csv")!.Open();
        stream.ReadExactly(bytes);
        Assert.EndsWith("\r\n", Encoding.UTF8.GetString(bytes), StringComparison.Ordinal);
    }

    [Fact]
    public void WhatCanBeReadOfADamagedArchiveIsSalvaged()
    {
        using Scratch scratch = new();
        MadeUp.Fill(scratch["a"], scratch.Folder("p"), 1, 3);
        using (ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]))
        {
            string note = writer.Reader.Build(writer.Reader.Resolve("Build 2"))!.Notes[0].Id;
            writer.AsOne(() => writer.Database.Execute("UPDATE notes SET text = 'altered' WHERE id = $1", note));
        }

        string photo = Directory.EnumerateFiles(scratch["a/photos"], "*.jpg", SearchOption.AllDirectories).First();
        File.Delete(photo);
        Assert.Equal(2, ArchiveCheck.Run(scratch["a"]).Damages.Count(d => !d.Where.Contains("words", StringComparison.Ordinal) && !d.Where.Contains("cannot", StringComparison.Ordinal) && (d.Where.Contains("notes", StringComparison.Ordinal) || d.Where.Contains("photos", StringComparison.Ordinal))));
        Assert.Throws<ArchiveException>(() => Export(scratch["a"], scratch["a.zip"]));
        Assert.False(File.Exists(scratch["a.zip"]));
        using (ArchiveReader reader = Archive.OpenForReading(scratch["a"]))
            Assert.Equal(2, ExportFile.Write(reader, scratch["a.zip"], salvage: true).LeftOut.Count);
        Archive.Create(scratch["b"]);
        ImportReport report = Import(scratch["b"], scratch["a.zip"]);
        Assert.Equal((3, 6), (report.Builds, report.Measurements));
        Assert.Contains("missing", Assert.Single(ArchiveCheck.Run(scratch["b"]).Damages).What, StringComparison.Ordinal);
    }

    private static List<string[]> ReadCsv(ZipArchive zip, string name)
    {
        using StreamReader text = new(zip.GetEntry(name)!.Open());
        using CsvParser parser = new(text, new CsvConfiguration(CultureInfo.InvariantCulture) { Mode = CsvMode.RFC4180 });
        List<string[]> lines = [];
        while (parser.Read())
            lines.Add(parser.Record!);
        return lines;
    }

    private static void Change(string folder, string photos, int number, string name)
    {
        using ArchiveWriter writer = Archive.OpenForWriting(folder);
        string id = writer.Reader.Resolve("Build 1");
        writer.ReviseBuild(id, MadeUp.Facts(1) with { Name = name });
        writer.AddNote(id, NoteKind.Note, name);
        writer.AddMeasurement(id, MadeUp.Measurement(MadeUp.Photo(photos, number), number));
        MadeUp.AddOne(writer, photos, number + 1);
    }

    /// <summary>Alters one file of an export and makes manifest and closing line fit again, as someone with bad intent would.</summary>
    private static void Forge(string from, string to, string name, Func<string, string> change)
    {
        using FileStream file = new(to, FileMode.Create, FileAccess.ReadWrite);
        using (ZipArchive source = ZipFile.OpenRead(from))
        using (ZipOut zip = new(file))
        {
            foreach (ZipArchiveEntry entry in source.Entries.Where(e => e.FullName != ExportFormat.Manifest))
            {
                using MemoryStream bytes = new();
                using (Stream stream = entry.Open())
                    stream.CopyTo(bytes);
                if (entry.FullName == name)
                    zip.Text(name, change(Encoding.UTF8.GetString(bytes.ToArray())));
                else
                    zip.Add(entry.FullName, s => s.Write(bytes.ToArray()));
            }

            zip.Manifest(isSalvaged: false);
        }

        ExportFormat.Close(file);
    }

    private static void Export(string folder, string path)
    {
        using ArchiveReader reader = Archive.OpenForReading(folder);
        ExportFile.Write(reader, path);
    }

    private static ImportReport Import(string folder, string path)
    {
        using ArchiveWriter writer = Archive.OpenForWriting(folder);
        return ImportFile.Read(writer, path);
    }
}
