using DeflectScan.Findings;

namespace DeflectScan.Tracing.Rings;

/// <summary>Ring marks where no ring of this rod can stand: they are obeyed, and a person is asked to look at them again.</summary>
internal static class MarkDoubts
{
    /// <summary>No ring stands farther from the blank, nor farther beyond its end, mm (common practice, no source).</summary>
    private const double FarthestMm = 100;
    private const double BeyondEndMm = 40;

    /// <summary>What is said of marks far from the blank; nothing where all are near.</summary>
    public static IEnumerable<Finding> Of(IEnumerable<RingPlace> marks)
    {
        int far = marks.Count(m => Math.Abs(m.HeightMm) > FarthestMm || m.Station < -BeyondEndMm);
        if (far > 0)
        {
            yield return Finding.Review(
                FindingCode.GuidesUncertain,
                far == 1 ? "A ring mark lies far from the blank: check the marks file." : $"{far} ring marks lie far from the blank: check the marks file.");
        }
    }
}
