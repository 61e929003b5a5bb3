using DeflectScan.Geometry;
using DeflectScan.Numerics;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tracing.Line;

/// <summary>
/// Line and reading are two observations of a ring's place. How far they are apart says how sure the place is: a line that was taken for the edge of a halo or
/// of a shadow is as straight as the true one, but lies beside the rings, on many of them alike.
/// </summary>
internal sealed class RingAgreement
{
    /// <summary>
    /// How far beside a ring's contact a reading usually lies, mm: half of 2 759 lie within 0.17 mm (docs/reader.md), which the normal law makes a
    /// standard deviation.
    /// </summary>
    private const double UsualAcrossSdMm = 0.17 / NormalLaw.MedianSize;

    /// <summary>The same of what all rings of a photo have in common, mm: on 54 own scenes whose line was right it was below 0.31 mm in 95 of 100.</summary>
    private const double SharedSdMm = 0.15;

    /// <summary>So many rings tell what they have in common.</summary>
    private const int FewestShared = 3;

    /// <summary>So many standard uncertainties apart they may be by chance (95 %).</summary>
    private const double Chance = 2;

    private readonly double _sharedSdMm;

    /// <param name="offMm">Of every ring that was read and not marked: how far the line's corner lies from it along the axis and towards the inside, mm.</param>
    public RingAgreement(IReadOnlyList<Vec2> offMm)
    {
        double shared = offMm.Count < FewestShared ? 0 : Math.Abs(OrderStatistics.Middle(offMm.Select(o => o.Y), none: 0));
        _sharedSdMm = OpenToo(0, shared, SharedSdMm);
    }

    /// <summary>The standard deviation along the blank, mm, of a place that the line gives with one of its own.</summary>
    public static double Along(double sdMm, double apartMm, RingPlace read) =>
        NoLessSure(OpenToo(sdMm, Math.Abs(apartMm), read.AlongSdMm), apartMm, read.AlongSdMm);

    /// <summary>The same across the blank.</summary>
    public double Across(double sdMm, double apartMm, RingPlace read)
    {
        double own = OpenToo(sdMm, Math.Abs(apartMm), read.Source == Source.Traced ? UsualAcrossSdMm : read.AcrossSdMm);
        return NoLessSure(Math.Sqrt((own * own) + (_sharedSdMm * _sharedSdMm)), apartMm, read.AcrossSdMm);
    }

    /// <summary>What lies between both beyond their common standard uncertainty is uncertain too (Birge 1932, from memory).</summary>
    internal static double OpenToo(double sd, double apart, double readSd) =>
        apart * apart > Chance * Chance * ((sd * sd) + (readSd * readSd)) ? Math.Sqrt((apart * apart) - (readSd * readSd)) : sd;

    /// <summary>A ring is where it was read, but for what the reading errs by, whatever the line adds to that: no farther off than both say.</summary>
    internal static double NoLessSure(double sd, double apart, double readSd) => Math.Min(sd, Math.Sqrt((readSd * readSd) + (apart * apart)));
}
