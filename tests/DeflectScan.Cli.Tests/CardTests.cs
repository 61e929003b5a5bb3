namespace DeflectScan.Cli.Tests;

public class CardTests
{
    [Theory]
    [InlineData("--letter C --paper letter", "x.pdf", "C Letter pdf")]
    [InlineData("", "x.SVG", "A A4 svg")]
    [InlineData("--letter E", "x.png", "E A4 png")]
    public void TheFlagsReachTheDrawing(string flags, string name, string drawn)
    {
        using TempFolder folder = new();
        FakeRun run = new();
        Assert.Equal(0, run.Run(["card", .. flags.Split(' ', StringSplitOptions.RemoveEmptyEntries), "--out", folder[name]]));
        Assert.Equal(drawn, File.ReadAllText(folder[name]));
        Assert.Equal("", run.Out);
        Assert.Single(Directory.GetFiles(folder.Path));
    }

    [Fact]
    public void APlaceThatCannotBeWrittenToIsWrongUsage()
    {
        FakeRun run = new();
        Assert.Equal(2, run.Run("card", "--out", "/nowhere/at/all/x.pdf"));
        Assert.Equal("x.pdf cannot be written: give a place that you may write to.\n", run.Error);
    }
}
