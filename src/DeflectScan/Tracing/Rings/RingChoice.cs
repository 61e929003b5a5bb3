using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Tracing.Line;
using DeflectScan.Tracing.Reading;

namespace DeflectScan.Tracing.Rings;

/// <summary>Which rings there are and where each is expected, from what was read and what a person marked.</summary>
/// <param name="IsInside">Whether they stand on the inside of the bend.</param>
/// <param name="Places">From the tip-top to the one nearest to the reel.</param>
/// <param name="IsTipKnown">Whether the tip-top's ring was read or marked.</param>
/// <param name="Decoded">What was read.</param>
/// <param name="Told">Stations, mm from the axis' end, of what a person marked.</param>
/// <param name="IsComplete">Whether a person said by marks that these are all.</param>
/// <param name="Findings">What a person should look at.</param>
internal sealed record RingChoice(
    bool IsInside, IReadOnlyList<RingPlace> Places, bool IsTipKnown, DecodedRings Decoded, IReadOnlyList<double> Told, bool IsComplete, IReadOnlyList<Finding> Findings)
{
    /// <summary>Whether a person counted as many.</summary>
    public bool IsCounted { get; init; }

    /// <summary>Standard uncertainties of a place that was read, mm: on rendered photographs that were not trained on, see docs/reader.md.</summary>
    public const double ReadAlongSdMm = 0.9;
    public const double ReadAcrossSdMm = 0.6;

    /// <summary>The same of the tip-top, whose ring is small and hidden by the cord.</summary>
    private const double ReadTipAlongSdMm = 1.5;
    private const double ReadTipAcrossSdMm = 0.9;

    /// <summary>Of a tip-top's place that was neither read nor marked: its ring stands near the blank's end.</summary>
    private const double UnreadTipAlongSdMm = 6;
    private const double UnreadTipAcrossSdMm = 3;

    /// <summary>A mark no farther than this from the blank's end is the tip-top's, mm (common practice, no source).</summary>
    private const double TipMm = 22;

    /// <summary>Standard deviations within which a mark agrees with what was read.</summary>
    public const double Agrees = 3;

    public static RingChoice Of(StripReading reading, BlankAxis axis, RodPlane plane, LineOptions options, Func<RingCandidate, double>? line = null)
    {
        RingPlace[] marks = [.. options.MarkedRingsPx.Select(m => Marked(m, reading.Frame, axis, plane, options)).OrderBy(m => m.Station)];
        RingPlace? markedTip = marks.FirstOrDefault(m => Math.Abs(m.Station) < TipMm);
        RingPlace[] marked = [.. marks.Where(m => m != markedTip)];
        bool? side = options.Side is { } said ? said == BendSide.Inside : marked.Length > 0 ? marked.Sum(m => m.HeightMm) > 0 : null;
        DecodedRings decoded = RingDecoder.Decode(reading, side, axis.HandleStationMm, line);
        List<Finding> findings = [.. MarkDoubts.Of(marks)];
        RingPlace tip = decoded.TipTop is { } read ? Read(read) with { AlongSdMm = ReadTipAlongSdMm, AcrossSdMm = ReadTipAcrossSdMm } : new RingPlace(0, 0, UnreadTipAlongSdMm, UnreadTipAcrossSdMm, Source.Inferred);
        if (markedTip is not null && (decoded.TipTop is null || !Agree(markedTip, tip)))
            tip = markedTip;
        bool complete = options.MarksAreComplete || (marks.Length > 0 && options.ExpectedGuides == marks.Length);
        List<RingPlace> places = [.. Joined(marked, decoded, complete).OrderBy(p => p.Station)];
        if (options.ExpectedGuides is { } expected && expected != places.Count + 1)
        {
            findings.Add(Finding.Review(
                FindingCode.GuidesUncertain, $"{places.Count + 1} rings were found with the tip-top, not {expected}: look at the overlay and mark the rings."));
        }

        return new RingChoice(decoded.Inside, [tip, .. places], markedTip is not null || decoded.TipTop is not null, decoded, [.. marked.Select(m => m.Station)], complete, findings) { IsCounted = options.ExpectedGuides == places.Count + 1 };
    }

    /// <summary>Whether the same rings are in use.</summary>
    public bool SameRings(RingChoice other) => IsInside == other.IsInside && Places.SequenceEqual(other.Places);

    /// <summary>What was read, but where a person says otherwise.</summary>
    private static IEnumerable<RingPlace> Joined(RingPlace[] marked, DecodedRings decoded, bool complete)
    {
        List<RingPlace> read = [.. decoded.Rings.Select(Read)];
        foreach (RingPlace mark in marked)
        {
            RingPlace? near = read.Where(r => Math.Abs(r.Station - mark.Station) < SameRing.WithinMm).MinBy(r => Math.Abs(r.Station - mark.Station));
            if (near is not null)
                read.Remove(near);
            yield return near is not null && Agree(mark, near) ? near : mark;
        }

        if (complete)
            yield break;
        foreach (RingPlace place in read)
            yield return place;
    }

    public static RingPlace Read(RingCandidate c) => new(c.Station, c.HeightMm, ReadAlongSdMm, ReadAcrossSdMm, Source.Traced);

    private static RingPlace Marked(Vec2 px, StripFrame frame, BlankAxis axis, RodPlane plane, LineOptions options)
    {
        Vec2 at = plane.ToPlane(px);
        (double s, double offset) = axis.Curve.Nearest(at);
        double sd = options.MarkSdPx * plane.MmPerPx(at);
        return new RingPlace(s, offset * frame.InsideSign, sd, sd, Source.Marked);
    }

    private static bool Agree(RingPlace mark, RingPlace read) =>
        Math.Abs(mark.Station - read.Station) < Agrees * Math.Sqrt((mark.AlongSdMm * mark.AlongSdMm) + (read.AlongSdMm * read.AlongSdMm))
        && Math.Abs(mark.HeightMm - read.HeightMm) < Agrees * Math.Sqrt((mark.AcrossSdMm * mark.AcrossSdMm) + (read.AcrossSdMm * read.AcrossSdMm));
}
