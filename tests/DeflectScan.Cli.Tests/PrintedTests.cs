using DeflectScan.Scenes;

namespace DeflectScan.Cli.Tests;

/// <summary>
/// What every command says of one photo stands in a file, so that a change of it shows as a difference. Where a change is meant,
/// DEFLECTSCAN_WRITE_PRINTED=1 writes the files anew: look at the difference as a person who reads it.
/// </summary>
public sealed class PrintedTests(PrintedTests.Once once) : IClassFixture<PrintedTests.Once>
{
    public static TheoryData<string> Pages => [.. PrintedRun.Pages];

    [Theory]
    [MemberData(nameof(Pages))]
    public void EveryCommandSaysWhatItSaid(string page)
    {
        string path = Path.Combine(Repository.Root, "tests", "DeflectScan.Cli.Tests", "Printed", $"{page}.txt");
        string now = once.Said[page];
        if (Environment.GetEnvironmentVariable("DEFLECTSCAN_WRITE_PRINTED") == "1")
            File.WriteAllText(path, now);
        Assert.Equal(File.ReadAllText(path), now);
    }

    /// <summary>One run for all pages.</summary>
    public sealed class Once
    {
        private readonly Lazy<IReadOnlyDictionary<string, string>> _said = new(() =>
        {
            using PrintedRun run = new();
            return run.Run();
        });

        internal IReadOnlyDictionary<string, string> Said => _said.Value;
    }
}
