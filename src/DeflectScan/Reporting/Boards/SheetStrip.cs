using DeflectScan.Geometry;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Teaching;

namespace DeflectScan.Reporting.Boards;

/// <summary>One rod's straightened strip for its own sheet, from its figures alone: where the photo's band is not at hand.</summary>
internal static class SheetStrip
{
    private const double Width = 1000;
    private const double RowHeight = 120;
    private const double Top = 22;
    private const double WordSize = 16;

    /// <summary>The drawing; null for a rod without figures.</summary>
    public static Sketch? Of(ClassRod rod, LengthUnit unit)
    {
        if (rod.Strip is not { } strip)
            return null;
        StripScale scale = StripScale.Of(new ClassReport(new ClassOptions(), [rod], null, null, []), Width - 40, RowHeight);
        Sketch sketch = new(Width, Top + RowHeight + 82);
        double tipX = Width - 20, baseY = Top + scale.AboveUnits;
        StripDrawing.Draw(sketch, strip, scale, tipX, baseY, rod.TargetMm);
        for (int i = 0; i < strip.Rings.Count; i++)
        {
            StripRing ring = strip.Rings[i];
            double y = baseY - (Math.Max(ring.HeightMm, 0) * scale.PerMm * scale.HeightTimes) - 8;
            sketch.Words(i == strip.Rings.Count - 1 ? "T" : $"{i + 1}", tipX - (ring.StationMm * scale.PerMm), y, 14, Tone.Ink, isBold: true, anchor: Anchor.Middle);
        }

        StripDrawing.Ruler(sketch, scale, tipX, Top + RowHeight + 6, unit);
        string worst = strip.WorstPair is null ? "" : " Thick: the pair that follows worst.";
        IReadOnlyList<string> note = Typefaces.Wrap($"{scale.Words}{worst}{(rod.TargetMm is null ? "" : " Dashed: the target.")}", (float)WordSize, (float)(Width - 40));
        for (int i = 0; i < note.Count; i++)
            sketch.Words(note[i], 20, Top + RowHeight + 46 + (i * WordSize * 1.3), WordSize, Tone.Quiet);
        return sketch;
    }
}
