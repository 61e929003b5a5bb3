using System.Reflection;
using DeflectScan.Scenes;
using PublicApiGenerator;

namespace DeflectScan.Rooms.Tests;

/// <summary>
/// What is public is meant to be: what others may call stands in a file for each library, so that a change of it shows as a difference. Where a change
/// is meant, DEFLECTSCAN_WRITE_API=1 writes the files anew.
/// </summary>
public class PublicApiTests
{
    [Theory]
    [InlineData("DeflectScan.Core")]
    [InlineData("DeflectScan.Records")]
    public void WhatIsPublicIsMeantToBe(string library)
    {
        string path = Path.Combine(Repository.Root, "tests", "DeflectScan.Rooms.Tests", "Api", $"{library}.txt");
        string found = Assembly.Load(library).GeneratePublicApi(new ApiGeneratorOptions { IncludeAssemblyAttributes = false, OrderBy = OrderMode.FullName }).ReplaceLineEndings("\n").Trim() + "\n";
        if (Environment.GetEnvironmentVariable("DEFLECTSCAN_WRITE_API") == "1")
            File.WriteAllText(path, found);
        string[] before = File.ReadAllLines(path);
        string[] now = found.TrimEnd('\n').Split('\n');
        string[] gone = [.. before.Except(now, StringComparer.Ordinal)];
        string[] come = [.. now.Except(before, StringComparer.Ordinal)];
        Assert.True(before.SequenceEqual(now, StringComparer.Ordinal), $"""
            The public API of {library} is not as its file says. If that is meant: DEFLECTSCAN_WRITE_API=1 dotnet test tests/DeflectScan.Rooms.Tests --filter PublicApi
            gone:
            {string.Join('\n', gone)}
            come:
            {string.Join('\n', come)}
            """);
    }
}
