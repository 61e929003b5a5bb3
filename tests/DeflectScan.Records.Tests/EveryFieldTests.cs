using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;
using DeflectScan.Nightly.Archives;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Records.Transfer;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Tracing;
using UglyToad.PdfPig;

namespace DeflectScan.Records.Tests;

/// <summary>Everything that can be said of a build is found again wherever a build is shown or carried to.</summary>
public class EveryFieldTests
{
    private static readonly BuildFacts Facts = new()
    {
        Name = "QName", Owner = "QOwner", Blank = "QBlank", BlankLengthMm = 2134.5, Pieces = 3, SpineMark = "QSpine", Handle = "QHandle", ReelClass = 2500, Line = "QLine",
        Side = BendSide.Outside, Use = "QUse", Remarks = "QRemarks, \"quoted\"\nQSecond", Guides = [new GuideEntry("QFrame, high", 25.5, 1016, 571.5), new GuideEntry(null, 5.5, 0, 1587.5)],
    };

    /// <summary>1016 mm are 40 in, 571.5 mm are 22 1/2 in, 1587.5 mm are 62 1/2 in, 2134.5 mm are 84.04 in; 508 mm of the layout are 20 in (25.4 mm each).</summary>
    private static readonly string[] Shown =
    [
        "QName", "QOwner", "QBlank", "2134.5", "84.04", "3", "QSpine", "QHandle", "2500", "QLine", "outside", "QUse", "QRemarks, \"quoted\"", "QSecond",
        "QFrame, high", "25.5", "1016.0", "40 in", "571.5", "22 1/2 in", "1587.5", "62 1/2 in", "QLayout", "QBasis", "508.0", "20 in", "7.5", "chosen", "QNote", "QCast", "test cast", "QRemark", "remark", "QLabel",
    ];

    [Fact]
    public void SheetsShowEveryField()
    {
        using Scratch scratch = new();
        using ArchiveWriter writer = Make(scratch["a"], scratch.Folder("p"));
        BuildSheet sheet = BuildSheet.Of(writer.Reader, writer.Reader.Build(writer.Reader.Resolve("QName"))!);
        string html = System.Net.WebUtility.HtmlDecode(BuildSheetHtml.Write([sheet]));
        using PdfDocument pdf = PdfDocument.Open(BuildSheetPdf.Write([sheet], SheetPaper.A4));
        string printed = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        foreach (string text in Shown)
        {
            Assert.Contains(text, html, StringComparison.Ordinal);
            Assert.Contains(text, printed, StringComparison.Ordinal);
        }
    }

    /// <summary>What a builder works from stands first: the layout that was chosen, before what was measured; its date and the build's name are on the page.</summary>
    [Fact]
    public void TheChosenLayoutStandsFirst()
    {
        using Scratch scratch = new();
        using ArchiveWriter writer = Make(scratch["a"], scratch.Folder("p"));
        BuildSheet sheet = BuildSheet.Of(writer.Reader, writer.Reader.Build(writer.Reader.Resolve("QName"))!);
        string[] titles = [.. sheet.Tables().Select(t => t.Title)];
        Assert.Equal("Layout \"QLayout\", chosen", titles[0]);
        Assert.Contains("Guides as measured, from the reel", titles[1..]);
        using PdfDocument pdf = PdfDocument.Open(BuildSheetPdf.Write([sheet], SheetPaper.A4));
        string printed = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
        Assert.True(printed.IndexOf("chosen", StringComparison.Ordinal) < printed.IndexOf("as measured, from", StringComparison.Ordinal));
        Assert.Contains($"{sheet.Test!.MadeAt:yyyy-MM-dd}", printed, StringComparison.Ordinal);
    }

    [Fact]
    public void JsonAndCsvHoldEveryField()
    {
        using Scratch scratch = new();
        using ArchiveWriter writer = Make(scratch["a"], scratch.Folder("p"));
        Build build = writer.Reader.Build(writer.Reader.Resolve("QName"))!;
        string json = BuildJson.Write(writer.Reader, build);
        BuildFacts back = BuildFactsJson.Read(System.Text.Json.JsonDocument.Parse(json).RootElement.GetProperty("build").GetRawText(), null).Value!;
        Assert.True(Facts.Says(back));
        Dictionary<string, List<string[]>> tables = BuildCsv.Write(writer.Reader, build).ToDictionary(t => t.Name, t => Csv(t.Bytes));

        // CsvHelper in its RFC 4180 mode; units and numbers as in the model.
        Assert.Equal(
            ["QName", "QOwner", "QBlank", "2134.5", "3", "QSpine", "QHandle", "2500", "QLine", "outside", "QUse", "QRemarks, \"quoted\"\nQSecond"], tables["revisions.csv"][1][3..]);
        Assert.Equal(["1", "QFrame, high", "25.5", "1016", "571.5"], tables["guides.csv"][1][1..]);
        Assert.Equal(["2", "", "5.5", "0", "1587.5"], tables["guides.csv"][2][1..]);
        Assert.Equal(["QLayout", "QBasis"], tables["layouts.csv"][1][3..]);
        Assert.Equal(["1", "508", "1079.5", "7.5", "9.25"], tables["layout_guides.csv"][1][1..]);
        Assert.Equal(build.ChosenLayoutId, tables["choices.csv"][1][2]);
        Assert.Equal(["note", "test-cast", "remark"], tables["notes.csv"].Skip(1).Select(r => r[3]));
        Assert.Contains("QLabel", tables["measurements.csv"][1]);
        Assert.Equal(1 + (2 * 3), tables["measured_guides.csv"].Count);
        Assert.Equal(1 + (2 * 2), tables["pairs.csv"].Count);
        foreach (string text in new[] { "QLayout", "QBasis", "508", "1079.5", "7.5", "9.25", "\"chosen\": true", "QNote", "test-cast", "QRemark", "QLabel", "photo_sha256", "program_version", "\"settings\": {" })
            Assert.Contains(text, json, StringComparison.Ordinal);
    }

    [Fact]
    public void AnExportCarriesEveryField()
    {
        using Scratch scratch = new();
        string id;
        using (ArchiveWriter writer = Make(scratch["a"], scratch.Folder("p")))
        {
            id = writer.Reader.Resolve("QName");
            ExportFile.Write(writer.Reader, scratch["a.zip"]);
        }

        Archive.Create(scratch["b"]);
        using ArchiveWriter other = Archive.OpenForWriting(scratch["b"]);
        ImportFile.Read(other, scratch["a.zip"]);
        Build build = other.Reader.Build(id)!;
        Assert.True(Facts.Says(build.Facts));
        Assert.Equal(["note: QNote", "test-cast: QCast", "remark: QRemark"], build.Notes.Select(n => $"{n.Kind switch { NoteKind.TestCast => "test-cast", NoteKind.Remark => "remark", _ => "note" }}: {n.Text}"));
        Assert.Equal([new LayoutStation(508, 1079.5, 7.5, 9.25), new LayoutStation(0, 1587.5, null, null)], build.ChosenLayout!.Stations);
        Assert.Equal(("QLayout", "QBasis", "QLabel"), (build.ChosenLayout.Name, build.ChosenLayout.Basis, build.Measurements[0].Label));
    }

    /// <summary>All of a text is printed, on as many pages as it takes, and none of it beside the paper.</summary>
    [Fact]
    public void LongAndForeignTextsStayOnThePaper()
    {
        using Scratch scratch = new();
        Archive.Create(scratch["a"]);
        using ArchiveWriter writer = Archive.OpenForWriting(scratch["a"]);
        string id = writer.AddBuild(Facts with
        {
            Name = new string('W', 200), Owner = "\u202Eturned\u202C", Remarks = string.Join(' ', Enumerable.Range(1, 3000).Select(i => $"w{i}")),
            Guides = [.. Enumerable.Range(0, 60).Select(i => new GuideEntry(i == 3 ? string.Join(' ', Enumerable.Repeat("long", 60)) : "low", 6, (59 - i) * 20, null))],
        });
        BuildSheet sheet = BuildSheet.Of(writer.Reader, writer.Reader.Build(id)!);
        using PdfDocument pdf = PdfDocument.Open(BuildSheetPdf.Write([sheet], SheetPaper.Letter));
        HashSet<string> words = [.. pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text)];
        Assert.All(Enumerable.Range(1, 3000), i => Assert.Contains($"w{i}", words));
        Assert.Equal(60 + 0, pdf.GetPages().SelectMany(p => p.GetWords()).Count(w => w.Text == "long"));
        Assert.All(pdf.GetPages(), p => Assert.All(p.Letters, l => Assert.True(l.BoundingBox.Left >= 0 && l.BoundingBox.Right <= p.Width && l.BoundingBox.Bottom >= 0 && l.BoundingBox.Top <= p.Height)));
        Assert.DoesNotContain('\u202E', BuildSheetHtml.Write([sheet]));
        Assert.Contains("\uFFFDturned\uFFFD", System.Net.WebUtility.HtmlDecode(BuildSheetHtml.Write([sheet])), StringComparison.Ordinal);
    }

    private static ArchiveWriter Make(string folder, string photos)
    {
        Archive.Create(folder);
        ArchiveWriter writer = Archive.OpenForWriting(folder);
        string id = writer.AddBuild(Facts);
        writer.AddMeasurement(id, MadeUp.Measurement(MadeUp.Photo(photos, 1), 1) with { Label = "QLabel" });
        writer.AddMeasurement(id, MadeUp.Measurement(MadeUp.Photo(photos, 2), 2) with { Label = "QLabel again" });
        writer.ChooseLayout(id, writer.AddLayout(id, "QLayout", "QBasis", [new LayoutStation(508, 1079.5, 7.5, 9.25), new LayoutStation(0, 1587.5, null, null)]));
        writer.AddNote(id, NoteKind.Note, "QNote");
        writer.AddNote(id, NoteKind.TestCast, "QCast");
        writer.AddNote(id, NoteKind.Remark, "QRemark");
        return writer;
    }

    private static List<string[]> Csv(byte[] bytes)
    {
        using StreamReader text = new(new MemoryStream(bytes));
        using CsvParser parser = new(text, new CsvConfiguration(CultureInfo.InvariantCulture) { Mode = CsvMode.RFC4180 });
        List<string[]> lines = [];
        while (parser.Read())
            lines.Add(parser.Record!);
        return lines;
    }
}
