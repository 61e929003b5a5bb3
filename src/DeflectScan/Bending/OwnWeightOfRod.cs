using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Layout.Guides;
using DeflectScan.Mechanics;
using DeflectScan.Tracing;

namespace DeflectScan.Bending;

/// <summary>Own weight of a measured rod: the blank as told, the guides from a table or typical ones by the height of their rings.</summary>
public static class OwnWeightOfRod
{
    /// <summary>A weighed blank with guides from a table: standard uncertainty of the whole as a share.</summary>
    private const double WeighedSdShare = 0.04;

    /// <summary>The same where guides or blank are typical; common practice, no source.</summary>
    private const double TypicalSdShare = 0.2;

    /// <summary>Wrap and finish over the guide's own mass; common practice, no source.</summary>
    private const double WrapShare = 0.3;

    /// <summary>Grams of a guide over the square of its ring's distance from the axis in mm: 5 g at 45 mm, 0.2 g at 9 mm; common practice, no source.</summary>
    private const double GramsPerSquareMm = 0.0025;

    /// <summary>Grams of a tip-top; common practice, no source.</summary>
    private const double TipTopGrams = 0.4;

    /// <summary>Grams a metre of blank at its middle diameter in mm squared: a tube of carbon with a wall of 1 mm or so; common practice, no source.</summary>
    private const double GramsPerMetreAndMm = 4.5;

    /// <summary>A typical weight in N for the traced blank, from its diameter along the length.</summary>
    public static double TypicalBlankN(Measurement m) =>
        m.Blank!.TracedLengthMm / 1000 * m.Blank.Axis.Average(a => a.DiameterMm) * GramsPerMetreAndMm / 1000 * ForceText.NewtonPerKilogram;

    /// <summary>The whole, or null when the blank's weight is not known.</summary>
    public static OwnWeight? Of(BlankSource source) => source.BlankWeightN is not { } blank
        ? null
        : new OwnWeight(blank, source.WeightIsTypical || source.Guides is null ? TypicalSdShare : WeighedSdShare)
        {
            Guides = [.. source.Reference.Guides.Select(g => new PointWeight(g.StationMm, GramsOf(g, source) / 1000 * ForceText.NewtonPerKilogram))],
        };

    private static double GramsOf(GuideReport guide, BlankSource source)
    {
        if (guide.IsTip)
            return TipTopGrams;
        double typical = GramsPerSquareMm * guide.HeightMm * guide.HeightMm;
        return (1 + WrapShare) * (Matching(guide, source)?.MassG ?? typical);
    }

    // By the ring where its size was seen, else the guide whose ring the line would touch at the measured height.
    private static GuideModel? Matching(GuideReport guide, BlankSource source)
    {
        if (source.Guides is not { } table)
            return null;
        if (guide.RingOuterMm is { } outer && table.Nearest(outer) is { } seen)
            return seen;
        GuideSide side = source.Reference.Side == BendSide.Outside ? GuideSide.Outside : GuideSide.Inside;
        double radius = source.Reference.Blank!.Axis.MinBy(a => Math.Abs(a.SMm - guide.StationMm))!.DiameterMm / 2;
        GuideModel nearest = table.Guides.MinBy(g => Math.Abs(g.ContactDistanceMm(radius, side) - guide.HeightMm))!;
        return Math.Abs(nearest.ContactDistanceMm(radius, side) - guide.HeightMm) <= 0.25 * guide.HeightMm ? nearest : null;
    }
}
