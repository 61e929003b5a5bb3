using System.Text.Json;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Samples;
using DeflectScan.Writing;

namespace DeflectScan.Cli.Tests;

/// <summary>One unit throughout: what is typed without a unit, and what is shown.</summary>
public sealed class UnitsTests : IDisposable
{
    private const double Inch = 25.4;
    private readonly TempFolder _folder = new();
    private readonly FakeRun _run = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void BareNumbersFollowUnits()
    {
        Assert.Equal(0, _run.Run("measure", "photo.jpg", "--from-reel", "21", "--units", "in", "--taped", "2-5=24 1/8±1/16", "--length", "84"));
        Assert.Equal(21 * Inch, _run.Options!.FirstGuideFromReelMm!.Value, 1e-9);
        Assert.Equal(84 * Inch, _run.Options.BlankLengthMm!.Value, 1e-9);
        Assert.Equal(24.125 * Inch, _run.Options.Taped[0].Mm, 1e-9);
        Assert.Equal(Inch / 16, _run.Options.Taped[0].PlusMinusMm, 1e-9);
        Assert.Equal(0, _run.Run("measure", "photo.jpg", "--units", "in", "--from-reel", "530mm"));
        Assert.Equal(530, _run.Options.FirstGuideFromReelMm!.Value, 1e-9);
        Assert.Equal(0, _run.Run("measure", "photo.jpg", "--from-reel", "530"));
        Assert.Equal(530, _run.Options.FirstGuideFromReelMm!.Value, 1e-9);
        Assert.Equal(0, _run.Run("plan", "--rod-length", "78", "--reel-at", "12", "--units", "in", "--json"));
        Assert.Contains($"\"rod_length_mm\": {78 * Inch:0.#}", _run.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("measure", "photo.jpg", "--from-reel", "21")]
    [InlineData("measure", "photo.jpg", "--from-reel", "530", "--units", "in")]
    [InlineData("measure", "photo.jpg", "--length", "84")]
    [InlineData("measure", "photo.jpg", "--units", "in", "--card-off", "3")]
    [InlineData("plan", "--rod-length", "78", "--reel-at", "300mm")]
    public void AnUnlikelyBareNumberIsRefusedWithBothUnits(params string[] args)
    {
        Assert.Equal(2, _run.Run(args));
        Assert.Contains("mm", _run.Error, StringComparison.Ordinal);
        Assert.Contains("in", _run.Error, StringComparison.Ordinal);
        Assert.Single(_run.Error.TrimEnd('\n').Split('\n'));
    }

    [Fact]
    public void SentencesFollowUnits()
    {
        _run.Measurement = SampleMeasurement.Ok with
        {
            Suggestion = SampleMeasurement.Ok.Suggestion! with { Why = "The blank bows most, 19.4 mm, between guide 2 and the tip-top." },
            Findings = [Finding.Review(FindingCode.GuidesUncertain, "A guide stands 402 mm from the tip, known to 12.7 mm.")],
        };
        Assert.Equal(0, _run.Run("measure", "photo.jpg", "--units", "in"));
        Assert.Contains("The blank bows most, 0.76 in, between", _run.Out, StringComparison.Ordinal);
        Assert.Contains("A guide stands 15.83 in from the tip, known to 0.50 in.", _run.Out, StringComparison.Ordinal);
    }

    /// <summary>Steps of a sixteenth inch, and pounds beside newtons (2.2 lb are 1 kg within 0.3 %).</summary>
    [Fact]
    public void SpacingRoundsToSixteenthsAndForcesShowPounds()
    {
        string rod = WhatIfTests.Document(_folder);
        Assert.Equal(0, _run.Run("spacing", rod, "--guides", "8", "--units", "in", "--json"));
        using JsonDocument json = JsonDocument.Parse(_run.Out);
        double[] running = [.. json.RootElement.GetProperty("layout").GetProperty("guides").EnumerateArray().Skip(3).SkipLast(1).Select(g => g.GetProperty("station_mm").GetDouble())];
        Assert.NotEmpty(running);
        Assert.All(running, s => Assert.Equal(0, Math.IEEERemainder(s, Inch / 16), 1e-3));
        Assert.Equal(0, _run.Run("rings", rod, "--pull", "1kg", "--units", "in"));
        Assert.Contains("(2.2", _run.Out, StringComparison.Ordinal);
        Assert.Contains("Load N (lb)", _run.Out, StringComparison.Ordinal);
        Assert.Equal(0, _run.Run("whatif", rod, "--move", "5=15", "--units", "in", "--json"));
        using JsonDocument moved = JsonDocument.Parse(_run.Out);
        Assert.Contains(moved.RootElement.GetProperty("after").GetProperty("guides").EnumerateArray(), g => Math.Abs(g.GetProperty("station_mm").GetDouble() - (15 * Inch)) < 1e-3);
    }

    [Fact]
    public void EveryCommandThatShowsLengthsHasUnits()
    {
        RecordsRun.Fill(_folder, 1);
        Assert.Contains("Follows worst, in", Of("records", "list"), StringComparison.Ordinal);
        Assert.Contains("Length in", Of("records", "list"), StringComparison.Ordinal);
        Assert.Contains("Largest gap in", Of("records", "show", "Build 1"), StringComparison.Ordinal);
        Assert.Contains("Follows worst, in", Of("records", "find", "perch"), StringComparison.Ordinal);
        string started = Of("records", "find", "--length", "94", "--start");
        Assert.Contains("From tip in", started, StringComparison.Ordinal);
        Assert.DoesNotContain(" mm longer", started, StringComparison.Ordinal);
        Assert.DoesNotContain("From tip mm", started + Of("records", "show", "Build 1"), StringComparison.Ordinal);
        Assert.Contains("Largest gap in", Of("records", "compare", "Build 1", "--history"), StringComparison.Ordinal);
        Assert.Contains("reel in", Of("testcast", _folder["n.json"], "--seen", "line-slaps-blank", "--first-guide", "21"), StringComparison.Ordinal);
        Assert.Equal(0, _run.Run("plan", "--rod-length", "78", "--reel-at", "12", "--units", "in", "--save", _folder["l.json"]));
        Of("sheet", _folder["l.json"], "--out", _folder["s.pdf"]);
        Of("tape", _folder["l.json"], "--out", _folder["t.pdf"]);
    }

    [Fact]
    public void TheUnitIsChosenOnce()
    {
        _run.SettingsFile = _folder["config/deflectscan/settings.json"];
        Assert.Equal(0, _run.Run("settings", "units", "in"));
        Assert.Equal("units in\n", _run.Out);
        _run.Settings = Settings.Read(_run.SettingsFile);
        Assert.Equal(LengthUnit.Inches, _run.Settings.Units);
        Assert.Equal(0, _run.Run("measure", "photo.jpg", "--from-reel", "21"));
        Assert.Equal((LengthUnit.Inches, 21 * Inch), (_run.Options!.Units, _run.Options.FirstGuideFromReelMm!.Value));
        Assert.Equal(0, _run.Run("measure", "photo.jpg", "--units", "mm"));
        Assert.Equal(LengthUnit.Millimetres, _run.Options.Units);
        Assert.Equal(0, _run.Run("settings", "units", "mm"));
        Assert.Equal(LengthUnit.Millimetres, Settings.Read(_run.SettingsFile).Units);
        File.WriteAllText(_run.SettingsFile, "my own notes\n");
        Assert.Equal(LengthUnit.Millimetres, Settings.Read(_run.SettingsFile).Units);
        Assert.Equal(2, _run.Run("settings", "units", "in"));
        Assert.Equal("my own notes\n", File.ReadAllText(_run.SettingsFile));
        _run.SettingsFile = null;
        Assert.Equal(2, _run.Run("settings", "units", "in"));
    }

    private string Of(params string[] args)
    {
        string[] archive = args[0] == "records" ? ["--archive", _folder["archive"]] : [];
        int code = _run.Run([.. args, .. archive, "--units", "in"]);
        Assert.True(code == 0, $"{string.Join(' ', args)}: {_run.Error}");
        return _run.Out;
    }
}
