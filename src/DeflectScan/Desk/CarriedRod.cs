using DeflectScan.Findings;
using DeflectScan.Layout.Spacing;
using DeflectScan.Layout.Start;
using DeflectScan.Layout.Suggesting;

namespace DeflectScan.Desk;

/// <summary>A measured layout on another blank.</summary>
/// <param name="Layout">Where the guides go there.</param>
/// <param name="Reduction">Guides from the reel that are reduction guides.</param>
/// <param name="FromReelMm">Where they stand on the measured rod, from the reel to the tip-top, measured from the reel's front.</param>
public sealed record CarriedRod(CarriedLayout Layout, int Reduction, IReadOnlyList<double> FromReelMm)
{
    /// <summary>Carries it over; refused (guides-uncertain) where a place is not known or it does not fit.</summary>
    /// <param name="rod">The measured rod.</param>
    /// <param name="other">The other blank's own measurement, where there is one.</param>
    /// <param name="reelToTipMm">From the reel's front to the tip on the other blank; null: as its measurement says.</param>
    /// <param name="reduction">Reduction guides; null: as measured, else the usual number.</param>
    /// <param name="spacing">How running guides may be placed.</param>
    public static Outcome<CarriedRod> Of(MeasuredLayout rod, MeasuredLayout? other, double? reelToTipMm, int? reduction, SpacingOptions spacing)
    {
        if (rod.ReelStationMm is not { } reel)
            return Refused("The reel's place is not known: give the taped distance from the reel's front to the first guide.");
        if ((reelToTipMm ?? other?.ReelStationMm) is not { } toTip)
            return Refused("How far the tip is from the reel on the other blank is not known: give the taped distance from reel to tip.");
        int held = RunningPairs.Reduction(rod.Side, rod.Rings.Count, reduction ?? rod.Measurement.Running?.ReductionGuides);
        double[] fromReel = [.. rod.Rings.Select(r => reel - r.StationMm)];
        return CarryOver.To(fromReel, held, toTip, other?.Shape, spacing) is { } carried
            ? Outcome<CarriedRod>.Of(new CarriedRod(carried, held, fromReel))
            : Refused("The layout does not fit on the other blank: it is too short for the reduction guides and as many running guides: give the taped distance from reel to tip or fewer reduction guides.");
    }

    private static Outcome<CarriedRod> Refused(string message) => Outcome<CarriedRod>.Refused(FindingCode.GuidesUncertain, message);
}
