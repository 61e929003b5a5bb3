using DeflectScan.Calibration;
using DeflectScan.Calibration.Lens;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Tests.Photos;

namespace DeflectScan.Tests.Calibration.Lens;

/// <summary>Which profile a photo is measured with.</summary>
public sealed class LensChoiceTests : IDisposable
{
    private static readonly PhotoInfo Photo = TestPhoto.Info(4000, 3000, 27) with { CameraMake = "Example", CameraModel = "Phone", FocalLengthMm = 5.4 };
    private readonly TempFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void TheCamerasOwnProfileIsTakenUnasked()
    {
        Save("a.json", Profile("wide") with { Identity = new("Example", "Phone", null, 2.2, 13) });
        Save("b.json", Profile("main"));
        Save("c.json", Profile("other") with { Identity = new("Example", "Telephone", null, 5.4, 27) });
        LensChoice choice = LensChoice.For(Photo, null, [_folder.Path]);
        Assert.Equal("main", choice.Profile?.Name);
        Assert.Empty(choice.Findings);
    }

    [Theory]
    [InlineData("model")]
    [InlineData("lens")]
    [InlineData("zoom")]
    [InlineData("nameless")]
    public void AnotherCamerasProfileIsNotTakenUnaskedAndDoubtedWhenNamed(string other)
    {
        LensProfile profile = Profile("x");
        Save("x.json", profile with
        {
            Identity = other switch
            {
                "model" => profile.Identity with { CameraModel = "Other" },
                "lens" => profile.Identity with { LensModel = "Tele" },
                "zoom" => profile.Identity with { FocalLengthMm = 9, FocalLength35Mm = 50 },
                _ => new(null, null, null, null, null),
            },
        });
        PhotoInfo photo = Photo with { LensModel = "Main" };
        Assert.Null(LensChoice.For(photo, null, [_folder.Path]).Profile);
        LensChoice named = LensChoice.For(photo, At("x.json"), []);
        Assert.NotNull(named.Profile);
        if (other == "nameless")
            Assert.Empty(named.Findings);
        else
            Assert.Equal(Severity.Review, Assert.Single(named.Findings).Severity);
    }

    [Fact]
    public void ZoomedAndCutPhotosAreTold()
    {
        Save("x.json", Profile("x"));
        Assert.Null(LensChoice.For(Photo with { DigitalZoom = 2 }, null, [_folder.Path]).Profile);
        Assert.Equal(Severity.Review, Assert.Single(LensChoice.For(Photo with { DigitalZoom = 2 }, At("x.json"), []).Findings).Severity);
        LensChoice cut = LensChoice.For(Photo with { HeightPx = 2250 }, null, [_folder.Path]);
        Assert.NotNull(cut.Profile);
        Assert.Contains("shape", Assert.Single(cut.Findings).Message, StringComparison.Ordinal);
    }

    /// <summary>f/d of a 5.4 mm lens from 0.3 m to 2 m: 5.4/2000 - 5.4/300 = -1.53 %.</summary>
    [Fact]
    public void FocusingElsewhereIsToldAndWidensTheFocalLength()
    {
        LensProfile near = Profile("x") with { BoardDistanceMm = 300 };
        Assert.Equal(-0.0153, LensFit.FocusChange(near, Photo, 2000), 4);
        Assert.Contains("1.5 %", LensFit.Focus(near, Photo, 2000)!.Message, StringComparison.Ordinal);
        Assert.Null(LensFit.Focus(near with { BoardDistanceMm = 1500 }, Photo, 2000));
        double narrow = LensPrior.For(Photo, new CalibrationOptions { Lens = near with { BoardDistanceMm = null } }).Information.Inverse()[0, 0];
        double wide = LensPrior.For(Photo, new CalibrationOptions { Lens = near }).Information.Inverse()[0, 0];
        Assert.InRange(Math.Sqrt(wide - narrow) / near.FocalPx, 0.008, 0.011);
    }

    [Fact]
    public void FilesThatAreNoProfilesArePassedOverAndTold()
    {
        File.WriteAllText(At("a.json"), "{\"name\": 5");
        File.WriteAllText(At("b.json"), "[]");
        Save("c.json", Profile("main"));
        LensChoice choice = LensChoice.For(Photo, null, [At("nowhere"), _folder.Path]);
        Assert.Equal("main", choice.Profile?.Name);
        Assert.Equal(2, choice.Findings.Count);
        Assert.All(choice.Findings, f => Assert.Equal(Severity.Note, f.Severity));
        Assert.Throws<InvalidDataException>(() => LensChoice.For(Photo, At("a.json"), []));
        Assert.Throws<InvalidDataException>(() => LensChoice.For(Photo, At("nowhere.json"), []));
    }

    /// <summary>EXIF text never becomes part of a path.</summary>
    [Fact]
    public void APathInExifReachesNoFile()
    {
        Directory.CreateDirectory(At("inner"));
        Save("secret.json", Profile("secret") with { Identity = new("Example", "../secret", null, 5.4, 27) });
        Assert.Null(LensChoice.For(Photo with { CameraModel = "../secret" }, null, [At("inner")]).Profile);
    }

    [Fact]
    public void AProfileReadsBackAsWritten()
    {
        LensProfile profile = Profile("x") with { BoardDistanceMm = 1234.5, Views = 12 };
        LensProfile back = LensProfile.Read(profile.Write());
        Assert.Equal((profile.Name, profile.Identity, profile.FocalPx, 1234.5, 12), (back.Name, back.Identity, back.FocalPx, back.BoardDistanceMm!.Value, back.Views!.Value));
    }

    private static LensProfile Profile(string name)
    {
        double[] sd = [2, 2, 2, 0.002, 0.004, 1e-4, 1e-4];
        return new LensProfile(
            name, new LensIdentity("Example", "Phone", null, 5.4, 27), 4000, 3000, 3100, 1999.5, 1499.5, [0, 0, 0, 0, 0],
            [.. Enumerable.Range(0, 7).Select(i => (IReadOnlyList<double>)[.. Enumerable.Range(0, 7).Select(j => i == j ? sd[i] * sd[i] : 0)])], 0.2);
    }

    private string At(string name) => Path.Combine(_folder.Path, name);

    private void Save(string name, LensProfile profile) => File.WriteAllText(At(name), profile.Write());
}
