using DeflectScan.Cli.Running;
using DeflectScan.Scenes.Samples;

namespace DeflectScan.Cli.Tests;

/// <summary>Exit codes as the contract numbers them: 0 ok, 1 unexpected, 2 wrong usage, 3 refused, 4 needs review, 130 cancelled.</summary>
public class ExitCodeTests
{
    [Fact]
    public void TheStatusDecides()
    {
        Assert.Equal(0, new FakeRun().Run("measure", "photo.jpg"));
        Assert.Equal(4, new FakeRun { Measurement = SampleMeasurement.Ok with { Status = MeasurementStatus.NeedsReview } }.Run("measure", "photo.jpg"));
        Assert.Equal(3, new FakeRun { Measurement = SampleMeasurement.Refused }.Run("measure", "photo.jpg"));
        Assert.Equal(3, new FakeRun { Measurement = SampleMeasurement.Refused }.Run("measure", "photo.jpg", "--json"));
    }

    [Theory]
    [InlineData("")]
    [InlineData("nonsense")]
    [InlineData("measure")]
    [InlineData("measure a b")]
    [InlineData("measure a --foo")]
    [InlineData("measure a --guides x")]
    [InlineData("measure a --guides 0")]
    [InlineData("measure a --guides 2.5")]
    [InlineData("measure a --length 1,5")]
    [InlineData("measure a --length NaN")]
    [InlineData("measure a --length -5")]
    [InlineData("measure a --side left")]
    [InlineData("measure a --units cm")]
    [InlineData("measure a --card-scale 0")]
    [InlineData("measure a --card-scale 1±0.2")]
    [InlineData("measure a --repeat")]
    [InlineData("measure a --time-limit 0")]
    [InlineData("measure a --card-off 99")]
    [InlineData("measure a --card-off 3cm")]
    [InlineData("measure a --taped 2-5")]
    [InlineData("measure a --taped 2-2=100")]
    [InlineData("measure a --hold -1")]
    [InlineData("measure a --marks /nowhere/marks.json")]
    [InlineData("measure a --lens /nowhere/lens.json")]
    [InlineData("check")]
    [InlineData("lens a.jpg")]
    [InlineData("lens --out l.json")]
    [InlineData("lens a.jpg --out l.txt")]
    [InlineData("lens a.jpg --out l.json --board 9")]
    [InlineData("lens a.jpg --out l.json --board 2x6")]
    [InlineData("lens a.jpg --out l.json --board 9x6 --square 25cm")]
    [InlineData("lens a.jpg --out l.json --board 9x6 --square 0")]
    [InlineData("lens a.jpg --out l.json --square 25mm")]
    [InlineData("card --letter F --out x.pdf")]
    [InlineData("card --letter A")]
    [InlineData("card --out x.gif")]
    [InlineData("completion tcsh")]
    [InlineData("serve --port x")]
    [InlineData("serve --port 70000 --no-browser")]
    public void WrongUsageIsOneLineOnStandardErrorAndExitsWithTwo(string line)
    {
        FakeRun run = new();
        Assert.Equal(2, run.Run(line.Split(' ', StringSplitOptions.RemoveEmptyEntries)));
        Assert.Equal("", run.Out);
        Assert.Equal(1, run.Error.Count(c => c == '\n'));
        Assert.DoesNotContain("System.", run.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("\uFFFD", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void TheUnexpectedIsOneWithoutATrace()
    {
        FakeRun run = new() { Fault = new InvalidOperationException("boom") };
        Assert.Equal(1, run.Run("measure", "photo.jpg", "--json"));
        Assert.Equal("", run.Out);
        Assert.Contains("boom", run.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", run.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void AMissingNativeLibraryNamesThePackages()
    {
        FakeRun run = new() { Fault = new TypeInitializationException("OpenCvSharp.NativeMethods", new DllNotFoundException("libOpenCvSharpExtern")) };
        Assert.Equal(1, run.Run("measure", "photo.jpg"));
        Assert.Contains("A native library cannot be loaded", run.Error, StringComparison.Ordinal);
        Assert.Null(NativeLibraries.Explain(new InvalidOperationException("boom")));
    }

    [Fact]
    public void CancellingEndsWith130AndLeavesNoFile()
    {
        using TempFolder folder = new();
        using CancellationTokenSource cancel = new();
        FakeRun run = new()
        {
            While = token =>
            {
                cancel.Cancel();
                token.ThrowIfCancellationRequested();
            },
        };
        Assert.Equal(130, run.Run(cancel.Token, "measure", "photo.jpg", "--out", folder.Path));
        Assert.Equal("", run.Out);
        Assert.Empty(Directory.GetFileSystemEntries(folder.Path));
    }

    [Theory]
    [InlineData("", "0 1 2 3 4 10 11 12 130")]
    [InlineData("measure", "0 1 2 3 4 130")]
    [InlineData("check", "0 1 2 3 4 130")]
    [InlineData("lens", "0 1 2 3 4 130")]
    [InlineData("card", "0 1 2 130")]
    [InlineData("demo", "0 1 2 3 4 130")]
    [InlineData("serve", "0 1 2 3 11 12 130")]
    [InlineData("completion", "0 1 2")]
    public void EveryHelpListsItsOwnExitCodes(string command, string codes)
    {
        FakeRun run = new();
        Assert.Equal(0, run.Run([.. command.Split(' ', StringSplitOptions.RemoveEmptyEntries), "--help"]));
        string[] lines = run.Out.Split('\n');
        int start = Array.IndexOf(lines, "Exit codes:");
        Assert.True(start > 0);
        Assert.Equal(codes.Split(' '), lines[(start + 1)..].TakeWhile(l => l.Length > 0).Select(l => l.TrimStart().Split(' ')[0]));
    }
}
