using System.Globalization;
using DeflectScan.Geometry;
using DeflectScan.Tracing;

namespace DeflectScan.Records.Model;

/// <summary>The running pair of a test that follows the bend worst, which lists and histories name.</summary>
/// <param name="From">Its guide nearer the reel.</param>
/// <param name="To">Its other guide, or the tip-top.</param>
/// <param name="ToTip">The other one is the tip-top.</param>
/// <param name="ByClearance">Judged by clearance (outside the bend), else by bow.</param>
/// <param name="Mm">That figure.</param>
/// <param name="UncertaintyMm">Of it, 95 %.</param>
public sealed record WorstPair(int From, int To, bool ToTip, bool ByClearance, double Mm, double UncertaintyMm)
{
    /// <summary>"5 to 6", "7 to tip-top".</summary>
    public string Name => string.Create(CultureInfo.InvariantCulture, $"{From} to {(ToTip ? "tip-top" : To.ToString(CultureInfo.InvariantCulture))}");

    /// <summary>What it is judged by: "bow" or "clearance".</summary>
    public string By => ByClearance ? "clearance" : "bow";

    /// <summary>Of a measurement; null where there is no pair, or where every running pair is in doubt; of some that are in doubt, the worst of the others.</summary>
    public static WorstPair? Of(Measurement m)
    {
        if (m.SureWorst() is not { } pair)
            return null;
        MeasuredLength follows = pair.Follows(m.Side);
        return new WorstPair(pair.From, pair.To, m.Guides.Any(g => g.IsTip && g.Index == pair.To), m.Side == BendSide.Outside, follows.Mm, follows.UncertaintyMm);
    }
}
