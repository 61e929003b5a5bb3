using System.Security.Cryptography;
using DeflectScan.Scenes.Samples;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Tests;

/// <summary>No command replaces a person's file by something else.</summary>
public sealed class NothingIsLostTests : IDisposable
{
    private readonly TempFolder _folder = new();
    private readonly FakeRun _run = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void PlanDoesNotReplaceAPhoto()
    {
        string photo = Photo("photo.jpg", 1);
        string misnamed = Photo("photo.json", 2);
        Refused(photo, "plan", "--rod-length", "6ft 6in", "--reel-at", "300mm", "--save", photo);
        Refused(misnamed, "plan", "--rod-length", "6ft 6in", "--reel-at", "300mm", "--save", misnamed);
        Assert.Equal(0, _run.Run("plan", "--rod-length", "6ft 6in", "--reel-at", "300mm", "--save", _folder["plan.json"]));
        Assert.Equal(0, _run.Run("plan", "--rod-length", "6ft 8in", "--reel-at", "300mm", "--save", _folder["plan.json"]));
    }

    [Fact]
    public void WhatIsReadIsNotWrittenOver()
    {
        string measured = WhatIfTests.Document(_folder);
        Refused(measured, "whatif", measured, "--add", "120mm", "--save", measured);
        Refused(measured, "spacing", measured, "--guides", "8", "--save", measured);
        Refused(measured, "carry", measured, "--reel-to-tip", "2000mm", "--save", measured);
        string layout = _folder["l.json"];
        Assert.Equal(0, _run.Run("whatif", measured, "--add", "120mm", "--save", layout));
        Refused(layout, "sheet", layout, "--out", layout);
        Refused(layout, "tape", layout, "--out", layout);
        string photo = _folder["p.png"];
        File.WriteAllBytes(photo, FakeRun.Picture);
        Refused(photo, "whatif", measured, "--add", "120mm", "--photo", photo, "--overlay", photo);
        Assert.Equal(0, _run.Run("plan", "--rod-length", "6ft 6in", "--reel-at", "300mm", "--save", _folder["kept.json"]));
        Refused(photo, "spacing", measured, "--plot", photo); // a person's own picture
        Assert.Equal(0, _run.Run("spacing", measured, "--plot", _folder["plot.png"]));
        Assert.Equal(0, _run.Run("spacing", measured, "--plot", _folder["plot.png"], "--units", "in"));
        Assert.Equal(0, _run.Run("spacing", measured, "--plot", photo, "--force"));
    }

    [Fact]
    public void RecordsReplaceNoDocument()
    {
        RecordsRun.Fill(_folder, 1);
        string measured = WhatIfTests.Document(_folder);
        Refused(measured, Records("show", "Build 1", "--pdf", measured));
        Refused(measured, Records("show", "Build 1", "--save", measured));
        Refused(measured, Records("show", "Build 1", "--document", measured));
        Refused(measured, Records("export", measured));
        string zip = _folder["mine.zip"];
        File.WriteAllBytes(zip, [.. "PK\u0003\u0004"u8, .. new byte[400]]);
        Refused(zip, Records("export", zip));
        foreach (int _ in Enumerable.Range(0, 2))
        {
            Assert.Equal(0, _run.Run(Records("export", _folder["all.zip"])));
            Assert.Equal(0, _run.Run(Records("show", "Build 1", "--pdf", _folder["s.pdf"], "--html", _folder["s.html"], "--csv", _folder["csv"])));
            Assert.Equal(0, _run.Run(Records("note", "Build 1", "once more")));
        }
    }

    [Fact]
    public void AFolderBelongsToItsPhoto()
    {
        (string a, string b) = (Photo("a.jpg", 1), Photo("b.jpg", 2));
        Of(a);
        Assert.Equal(0, _run.Run("measure", a, "--out", _folder["results"]));
        Assert.Equal(0, _run.Run("measure", a, "--out", _folder["results"], "--units", "in"));
        Of(b);
        Refused(_folder["results/" + ResultsFolder.Document], "measure", b, "--out", _folder["results"]);
        Assert.Contains("another photo", _run.Error, StringComparison.Ordinal);
        Refused(_folder["results/" + ResultsFolder.Document], "measure", a, b, "--repeat", "--out", _folder["results"]);
        Assert.Equal(0, _run.Run("measure", b, "--out", _folder["results"], "--force"));
        File.WriteAllBytes(Directory.CreateDirectory(_folder["pictures"]).FullName + "/overlay.png", FakeRun.Picture);
        Refused(_folder["pictures/overlay.png"], "measure", b, "--out", _folder["pictures"]); // a person's own
    }

    [Theory]
    [InlineData("sheet", "s.png")]
    [InlineData("tape", "s")]
    [InlineData("sheet", "s.json")]
    public void EndingsFit(string command, string name)
    {
        Assert.Equal(0, _run.Run("plan", "--rod-length", "6ft 6in", "--reel-at", "300mm", "--save", _folder["plan.json"]));
        Assert.Equal(2, _run.Run(command, _folder["plan.json"], "--out", _folder[name]));
        Assert.Contains("must end in .pdf", _run.Error, StringComparison.Ordinal);
        Assert.False(File.Exists(_folder[name]));
    }

    [Theory]
    [InlineData("whatif", "none.json", "--add", "120mm")]
    [InlineData("spacing", "none.json")]
    [InlineData("rings", "none.json")]
    [InlineData("bend", "none.json")]
    [InlineData("blank", "none.json")]
    [InlineData("carry", "none.json", "--reel-to-tip", "2000mm")]
    [InlineData("sheet", "none.json", "--out", "s.pdf")]
    public void AMissingFileIsWrongUsageEverywhere(params string[] args)
    {
        Assert.Equal(2, _run.Run(args));
        Assert.Equal("", _run.Out);
        Assert.Contains("no such file", _run.Error, StringComparison.Ordinal);
    }

    private string[] Records(params string[] args) => ["records", .. args, "--archive", _folder["archive"]];

    private string Photo(string name, int number) => RecordsRun.Photo(_folder, name, number, 400);

    private void Of(string photo) => _run.Measurement = SampleMeasurement.Ok with { Photo = SampleMeasurement.Ok.Photo! with { Sha256 = Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(photo))) } };

    /// <summary>Wrong usage in one sentence, and the file is as it was.</summary>
    private void Refused(string file, params string[] args)
    {
        byte[] before = File.ReadAllBytes(file);
        Assert.Equal(2, _run.Run(args));
        Assert.Equal(before, File.ReadAllBytes(file));
        Assert.Equal("", _run.Out);
        Assert.Single(_run.Error.TrimEnd('\n').Split('\n'));
    }
}
