using DeflectScan.Reporting.Sheets;

namespace DeflectScan.Scenes;

/// <summary>A photo's exact layout in the form that sheets are printed from.</summary>
public static class SceneSheets
{
    public static SheetLayout From(Truth truth) => new(
        $"Test rod {truth.Preset}",
        truth.Blank.LengthMm,
        [.. truth.Guides.Select((g, i) => new SheetGuide(
            g.Kind == "tip" ? "T" : $"{i + 1}",
            g.Kind == "tip" ? "tip-top" : i < 3 ? "reduction guide" : "running guide",
            g.FromTipMm,
            g.FromReelMm,
            g.RingOuterMm,
            g.HeightMm))]);
}
