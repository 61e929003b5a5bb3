using System.Text;
using DeflectScan.Photos;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Scenes.Samples;
using DeflectScan.Writing;
using OpenCvSharp;

namespace DeflectScan.Tests.Writing;

/// <summary>The one rule by which files are written: a person's own file stays, whatever it is called.</summary>
public sealed class OutputFilesTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("deflectscan-test-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void AFileOfTheSameKindIsReplaced()
    {
        OutputFiles files = new([], force: false);
        files.Write(At("x.json"), Layout("one"));
        files.Write(At("x.json"), Layout("two"));
        Assert.Equal(Layout("two"), File.ReadAllBytes(At("x.json")));
        files.Write(At("x.pdf"), Card(CardDrawing.WritePdf));
        files.Write(At("x.pdf"), LayoutSheet.Draw(Sheet("two"), SheetPaper.A4));
        files.Write(At("x.svg"), Card(CardDrawing.WriteSvg));
        files.Write(At("x.svg"), Card(CardDrawing.WriteSvg, 'B'));
        files.Write(At("x.png"), Card(CardDrawing.WritePng));
        files.Write(At("x.png"), Card(CardDrawing.WritePng, 'B'));
        Assert.Contains("Scale card B", File.ReadAllText(At("x.svg")), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("photo")]
    [InlineData("drawing")]
    [InlineData("page")]
    [InlineData("settings of another program")]
    [InlineData("another document")]
    [InlineData("text")]
    [InlineData("cut document")]
    public void WhatIsNotOursOrIsSomethingElseStays(string what)
    {
        byte[] own = what switch
        {
            "photo" => Png(),
            "drawing" => "<?xml version=\"1.0\"?><svg xmlns=\"http://www.w3.org/2000/svg\"/>\n"u8.ToArray(),
            "page" => "%PDF-1.4\n1 0 obj<</Title(about deflectscan)>>endobj\n%%EOF\n"u8.ToArray(),
            "settings of another program" => "{\"a\": 1}"u8.ToArray(),
            "another document" => Encoding.UTF8.GetBytes(MeasurementJson.Write(SampleMeasurement.Ok)),
            "text" => "my notes of the season\n"u8.ToArray(),
            _ => Layout("x")[..40],
        };
        byte[][] ours = [Layout("new"), Card(CardDrawing.WritePng), Card(CardDrawing.WriteSvg), Card(CardDrawing.WritePdf)];
        foreach ((byte[] content, string ending) in ours.Zip([".json", ".png", ".svg", ".pdf"]))
        {
            string path = At("file" + ending);
            File.WriteAllBytes(path, own);
            Assert.Throws<OutputRefusedException>(() => new OutputFiles([], force: false).Write(path, content));
            Assert.Equal(own, File.ReadAllBytes(path));
            new OutputFiles([], force: true).Write(path, content);
            Assert.NotEqual(own, File.ReadAllBytes(path));
        }
    }

    [Theory]
    [InlineData("same")]
    [InlineData("symbolic link")]
    [InlineData("hard link")]
    [InlineData("through a linked folder")]
    public void AnInputStaysWhateverWayLeadsToIt(string way)
    {
        File.WriteAllBytes(At("in.json"), Layout("in"));
        Directory.CreateDirectory(At("sub"));
        string output = At("out.json");
        switch (way)
        {
            case "same": output = At("sub/../in.json"); break;
            case "symbolic link": File.CreateSymbolicLink(output, At("in.json")); break;
            case "hard link": Assert.Equal(0, Run("ln", At("in.json"), output)); break;
            default:
                Directory.CreateSymbolicLink(At("there"), _folder);
                output = At("there/in.json");
                break;
        }

        OutputFiles files = new([At("in.json")], force: false);
        Assert.Throws<OutputRefusedException>(() => files.Expect(output, [OutputFormat.Json]));
        OutputRefusedException refusal = Assert.Throws<OutputRefusedException>(() => files.Write(output, Layout("new")));
        Assert.Contains("say that it may be replaced", refusal.Message, StringComparison.Ordinal);
        Assert.Equal(Layout("in"), File.ReadAllBytes(At("in.json")));
    }

    [Fact]
    public void EndingsFitAndEmptyFilesHoldNothing()
    {
        OutputFiles files = new([], force: true);
        Assert.Throws<OutputRefusedException>(() => files.Write(At("s.png"), Card(CardDrawing.WritePdf)));
        Assert.Throws<OutputRefusedException>(() => files.Expect(At("plot.jpg"), [OutputFormat.Png, OutputFormat.Svg, OutputFormat.Pdf]));
        Assert.False(File.Exists(At("s.png")));
        File.WriteAllText(At("e.json"), "");
        new OutputFiles([], force: false).Write(At("e.json"), Layout("new"));
        Assert.Equal(Layout("new"), File.ReadAllBytes(At("e.json")));
    }

    [Fact]
    public void ALinkIsFollowedAndAMeasurementBelongsToItsPhoto()
    {
        OutputFiles files = new([], force: false);
        files.Write(At("a.json"), Layout("one"));
        File.CreateSymbolicLink(At("link.json"), At("a.json"));
        files.Write(At("link.json"), Layout("two"));
        Assert.NotNull(new FileInfo(At("link.json")).LinkTarget);
        Assert.Equal(Layout("two"), File.ReadAllBytes(At("a.json")));

        Measurement of = SampleMeasurement.Ok;
        files.Write(At("m.json"), Encoding.UTF8.GetBytes(MeasurementJson.Write(SampleMeasurement.Refused))); // names no photo: nothing to lose
        files.Write(At("m.json"), Encoding.UTF8.GetBytes(MeasurementJson.Write(of)));
        files.Write(At("m.json"), Encoding.UTF8.GetBytes(MeasurementJson.Write(of with { Status = MeasurementStatus.NeedsReview })));
        byte[] other = Encoding.UTF8.GetBytes(MeasurementJson.Write(of with { Photo = of.Photo! with { Sha256 = new string('b', 64) } }));
        Assert.Throws<OutputRefusedException>(() => files.Write(At("m.json"), other));
    }

    /// <summary>The mark is a chunk of its own, so every decoder still reads the picture; OpenCV's does here.</summary>
    [Fact]
    public void AMarkedPictureIsStillThePicture()
    {
        byte[] drawn = Card(CardDrawing.WritePng);
        new OutputFiles([], force: false).Write(At("c.png"), drawn);
        using Mat before = Cv2.ImDecode(drawn, ImreadModes.Unchanged);
        using Mat after = Cv2.ImRead(At("c.png"), ImreadModes.Unchanged);
        Assert.Equal(0, Cv2.Norm(before, after));
        using UprightPhoto opened = PhotoOpener.Open(At("c.png"), PhotoLimits.Default).Value!; // checks every chunk's sum
        Assert.Equal(before.Width, opened.Info.WidthPx);
    }

    private string At(string name) => Path.Combine(_folder, name);

    private static SheetLayout Sheet(string title) => new(title, 2000, [new SheetGuide("1", "guide", 900, null, 8, null), new SheetGuide("tip", "tip", 0, null, null, null)]);

    private static byte[] Layout(string title) => Encoding.UTF8.GetBytes(LayoutJson.Write(Sheet(title)));

    private static byte[] Card(Action<char, Paper, Stream> write, char letter = 'A')
    {
        using MemoryStream file = new();
        write(letter, Paper.A4, file);
        return file.ToArray();
    }

    private static byte[] Png()
    {
        using Mat grey = new(8, 8, MatType.CV_8UC3, Scalar.All(99));
        return grey.ImEncode(".png");
    }

    private static int Run(string program, params string[] args)
    {
        using System.Diagnostics.Process p = System.Diagnostics.Process.Start(program, args);
        p.WaitForExit();
        return p.ExitCode;
    }
}
