using System.Text.RegularExpressions;
using DeflectScan.Scenes;

namespace DeflectScan.Rooms.Tests;

/// <summary>What DEVELOPERS.md says about the rooms holds for what was compiled.</summary>
public partial class RoomTests
{
    private const string Begin = "| room | holds | may know |\n|---|---|---|\n";

    [Fact]
    public void NoRoomUsesWhatItMayNotKnow()
    {
        Dictionary<string, Room> rooms = House.Rooms.ToDictionary(r => r.Name, StringComparer.Ordinal);
        string[] broken =
        [
            .. from use in Symbols.Uses
               let @from = Room.Of(use.Key.From)
               let to = Room.Of(use.Key.To)
               where @from != to && !rooms[@from].MayKnow.Contains(to, StringComparer.Ordinal)
               select $"{use.Key.From} ({use.Value}) -> {use.Key.To}",
        ];
        Assert.True(broken.Length == 0, string.Join('\n', broken.Order(StringComparer.Ordinal)));
    }

    [Fact]
    public void RoomsAreListedFromTheGroundUp()
    {
        List<string> names = [.. House.Rooms.Select(r => r.Name)];
        Assert.Empty(House.Rooms.SelectMany(r => r.MayKnow.Where(k => names.IndexOf(k) < 0 || names.IndexOf(k) >= names.IndexOf(r.Name)).Select(k => $"{r.Name} -> {k}")));
    }

    /// <summary>What a room may know and does not use is no rule but a hope: it goes from the table.</summary>
    [Fact]
    public void EveryRoomThatMayBeKnownIsUsed()
    {
        HashSet<(string, string)> used = [.. Symbols.Uses.Keys.Select(u => (Room.Of(u.From), Room.Of(u.To)))];
        string[] unused = [.. House.Rooms.SelectMany(r => r.MayKnow.Where(to => !used.Contains((r.Name, to))).Select(to => $"{r.Name} -> {to}"))];
        Assert.True(unused.Length == 0, string.Join('\n', unused));
    }

    [Fact]
    public void TheTableInDevelopersMdIsTheOneThatIsHeld()
    {
        string text = File.ReadAllText(Path.Combine(Repository.Root, "DEVELOPERS.md"));
        int at = text.IndexOf(Begin, StringComparison.Ordinal) + Begin.Length;
        Assert.True(at > Begin.Length, "no table of rooms");
        string expected = string.Concat(House.Rooms.Select(r => r.Row + "\n"));
        string found = text[at..(text.IndexOf("\n\n", at, StringComparison.Ordinal) + 1)];
        Assert.True(expected == found, $"Put this below the table's head in DEVELOPERS.md:\n{expected}");
    }

    /// <summary>A walk that leads to a file that was renamed leads nowhere. A name without its folder must be one file's alone.</summary>
    [Fact]
    public void EveryFileNamedInDevelopersMdIsThere()
    {
        string[] files =
        [
            .. new[] { "src", "tests" }.SelectMany(d => Directory.EnumerateFiles(Path.Combine(Repository.Root, d), "*.cs", SearchOption.AllDirectories))
                .Select(f => "/" + Path.GetRelativePath(Repository.Root, f).Replace('\\', '/')).Where(f => !f.Contains("/obj/", StringComparison.Ordinal)),
        ];
        string[] named = [.. NamedFile().Matches(File.ReadAllText(Path.Combine(Repository.Root, "DEVELOPERS.md"))).Select(m => m.Groups["file"].Value).Distinct(StringComparer.Ordinal)];
        Assert.True(named.Length > 20, "the walks are gone");
        Assert.DoesNotContain(named, n => files.Count(f => f.EndsWith("/" + n, StringComparison.Ordinal)) != 1);
    }

    [Fact]
    public void NamespacesGoInNoCircle()
    {
        string[] circles = [.. Circles.Of(Symbols.Uses.Keys).Select(c => string.Join(' ', c.Select(n => n.Replace("DeflectScan.", "", StringComparison.Ordinal))))];
        Ratchet.Hold(Today.Circles, circles);
    }

    /// <summary>The search itself, on a graph whose circles are plain: 1-2-3 go round, 4 is only reached, 5 and 6 use each other.</summary>
    [Fact]
    public void CirclesAreFound() => Assert.Equal(
        [["1", "2", "3"], ["5", "6"]],
        Circles.Of([("1", "2"), ("2", "3"), ("3", "1"), ("3", "4"), ("5", "4"), ("5", "6"), ("6", "5")]));

    [GeneratedRegex(@"`(?<file>[\w./]+\.cs)`", RegexOptions.ExplicitCapture, 10_000)]
    private static partial Regex NamedFile();
}
