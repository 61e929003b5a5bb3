using System.Xml.Linq;
using DeflectScan.Scenes;

namespace DeflectScan.Rooms.Tests;

/// <summary>What is internal is seen by tests alone: what another project of the program needs is public.</summary>
public class InternalsTests
{
    [Fact]
    public void OnlyTestsSeeInternals()
    {
        string[] seen =
        [
            .. Directory.EnumerateFiles(Path.Combine(Repository.Root, "src"), "*.csproj", SearchOption.AllDirectories).SelectMany(p =>
                XDocument.Load(p).Descendants("InternalsVisibleTo").Select(i => (string)i.Attribute("Include")!)
                    .Where(to => !Directory.Exists(Path.Combine(Repository.Root, "tests", to))).Select(to => $"{Path.GetFileNameWithoutExtension(p)} to {to}")),
        ];
        Assert.Equal(Today.Internals, seen);
    }
}
