namespace DeflectScan.Tracing.Rings;

/// <summary>Which places along a blank are one ring's.</summary>
public static class SameRing
{
    /// <summary>A mark and a place so near each other along the blank, mm, are one ring's: guides stand no nearer (common practice, no source).</summary>
    public const double WithinMm = 12;
}
