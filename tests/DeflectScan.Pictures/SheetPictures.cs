using DeflectScan.Reporting.Sheets;
using DeflectScan.Scenes;

namespace DeflectScan.Pictures;

/// <summary>The printed sheets of one test photo's rod, on both papers.</summary>
internal static class SheetPictures
{
    public static int Write(string output, string name)
    {
        Directory.CreateDirectory(output);
        SheetLayout layout = SceneSheets.From(Repository.Truth(name));
        foreach (SheetPaper paper in Enum.GetValues<SheetPaper>())
        {
            File.WriteAllBytes(Path.Combine(output, $"layout-{paper}.pdf"), LayoutSheet.Draw(layout, paper));
            File.WriteAllBytes(Path.Combine(output, $"tape-{paper}.pdf"), MarkingTape.Draw(layout, paper));
        }

        return 0;
    }
}
