using DeflectScan.Scenes;

namespace DeflectScan.Rooms.Tests;

/// <summary>Files, folders and methods stay small enough to be read at a glance.</summary>
public class SizeTests
{
    private const int MostLinesOfAFile = 300;
    private const int MostFilesOfAFolder = 20;
    private const int MostLinesOfAMethod = 60;

    private static string Source => Path.Combine(Repository.Root, "src");

    private static IEnumerable<string> Files =>
        from file in Directory.EnumerateFiles(Source, "*.cs", SearchOption.AllDirectories)
        let path = Path.GetRelativePath(Source, file).Replace('\\', '/')
        where !path.Contains("/obj/", StringComparison.Ordinal) && !path.Contains("/bin/", StringComparison.Ordinal)
        select path;

    [Fact]
    public void FilesAreShort() =>
        Ratchet.Hold([], Files.Where(f => File.ReadLines(Path.Combine(Source, f)).Skip(MostLinesOfAFile).Any()));

    [Fact]
    public void FoldersAreNotCrowded() =>
        Ratchet.Hold(Today.Folders, Files.GroupBy(f => f[..f.LastIndexOf('/')]).Where(g => g.Count() > MostFilesOfAFolder).Select(g => g.Key));

    [Fact]
    public void MethodsAreShort() =>
        Ratchet.Hold(Today.Methods, Symbols.Methods(Symbols.Modules).Where(m => m.Lines > MostLinesOfAMethod).Select(m => m.Name).Distinct(StringComparer.Ordinal));

    /// <summary>The ruler itself: five statements on five lines, in an iterator, whose code the compiler puts elsewhere.</summary>
    [Fact]
    public void MethodsAreMeasured() =>
        Assert.Equal(5, Symbols.Methods([Symbols.Read(typeof(SizeTests).Assembly)]).Where(m => m.Name.EndsWith(".FiveLines", StringComparison.Ordinal)).Max(m => m.Lines));

    private static IEnumerable<int> FiveLines(int a)
    {
        yield return a;
        yield return a + 1;
        yield return a + 2;
        yield return a + 3;
    }
}
