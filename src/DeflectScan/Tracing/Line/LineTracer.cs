using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Tracing.Reading;
using DeflectScan.Tracing.Rings;

namespace DeflectScan.Tracing.Line;

/// <summary>Finds the line, the guides' ring points and the tip-top's on a photo whose blank is traced.</summary>
public static class LineTracer
{
    /// <summary>Rings are chosen, the line through them measured, and chosen again with what it says, so often at the most.</summary>
    private const int Rounds = 3;

    /// <summary>
    /// Traces the line from the tip-top to before the first guide. The given axis need not end exactly at the tip.
    /// Method: the strip beside the blank is read by a trained network; the most probable rings are decoded; the taut line through them is found by dynamic
    /// programming and its corners are measured on the photo as intersections of fitted straight segments; where it turns, and where not, says again which
    /// rings there are.
    /// </summary>
    public static Outcome<LineTrace> Trace(UprightPhoto photo, RodPlane plane, BlankAxis axis, LineOptions options)
    {
        StripReading first = StripReader.Read(photo.Bgr, plane, axis);
        Outcome<LineTrace> traced = Trace(photo, plane, axis, options, first);
        if (IsDoubtful(traced))
            traced = Trace(photo, plane, axis, options, StripReader.ReadAgain(photo.Bgr, plane, axis, first));
        return traced.IsRefused ? traced : Outcome<LineTrace>.Of(traced.Value with { ReelFront = ReelFinder.Find(photo, plane, axis, first.Frame.InsideSign) }, traced.Findings);
    }

    // Where a person would be asked which rings there are, the strip is worth a second look.
    private static bool IsDoubtful(Outcome<LineTrace> traced) =>
        traced.IsRefused || traced.Findings.Any(f => f.Severity == Severity.Review && f.Code is FindingCode.GuidesUncertain or FindingCode.LineNotSeen);

    private static Outcome<LineTrace> Trace(UprightPhoto photo, RodPlane plane, BlankAxis axis, LineOptions options, StripReading reading)
    {
        double insideSign = reading.Frame.InsideSign;
        RingChoice rings = RingChoice.Of(reading, axis, plane, options);
        LineBand? band = null;
        for (int round = 1; ; round++)
        {
            if (rings.Places.Count < 2)
            {
                return Outcome<LineTrace>.Refused(
                    FindingCode.LineNotSeen, "No guides were seen on the blank: take the photo from nearer, before a plainer background, or mark the rings.");
            }

            if (band is null || band.Strip.Side != (rings.IsInside ? insideSign : -insideSign))
                band = LineBand.Sample(photo, plane, axis, insideSign, rings.IsInside, options);
            SeenLine line = SeenLine.Find(band, rings.Places, insideSign);
            FittedLine? fitted = LineAssembly.Fit(photo, plane, axis, rings, line, insideSign, options);
            RingChoice again = fitted is null ? rings : Heard(rings, line, fitted);
            if (again.SameRings(rings))
                return Reported(again, fitted, band.Strip.StepMm);
            if (round == Rounds)
            {
                Finding open = Finding.Review(FindingCode.GuidesUncertain, "Reading and line do not agree on which guides there are: count the rings on the overlay, and mark them.");
                return Reported(again with { Places = rings.Places, IsInside = rings.IsInside, Findings = [.. again.Findings, open] }, fitted, band.Strip.StepMm);
            }

            rings = again;
        }

        RingChoice Heard(RingChoice used, SeenLine line, FittedLine fitted)
        {
            LineTurns turns = new(
                axis, insideSign, fitted.Solution.Vertices, fitted.Windows, fitted.Kinds, c => line.Explains(used.Places, RingChoice.Read(c), insideSign));
            return RingChoice.Of(reading, axis, plane, options, turns.Of);
        }

        Outcome<LineTrace> Reported(RingChoice used, FittedLine? fitted, double stepMm)
        {
            if (fitted is null)
            {
                return Outcome<LineTrace>.Of(
                    RingReport.Unseen(axis, used, insideSign), [.. used.Findings, .. RingDoubts.Of(used, options.Side is not null), RingReport.NoLine, .. used.IsTipKnown ? (Finding[])[] : [LineDoubts.NoTip], .. HiddenDoubts.Of(axis, used)]);
            }

            Outcome<LineTrace> traced = RingReport.Make(photo, plane, axis, used, insideSign, fitted, stepMm, options.Side is not null);
            return traced.IsRefused ? traced : Outcome<LineTrace>.Of(traced.Value, [.. traced.Findings, .. HiddenDoubts.Of(axis, used)]);
        }
    }
}
