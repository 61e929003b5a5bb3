using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Photos;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Tracing;
using SkiaSharp;

namespace DeflectScan.Reporting;

/// <summary>
/// The measured photo with another layout drawn in: its line, rings and gaps as they would be, and the line and rings as they are where they differ.
/// </summary>
public static class WhatIfOverlay
{
    /// <summary>The same from the photo's file, which must be the one that was measured.</summary>
    /// <returns>The PNG file's bytes; refused (file-unreadable and what opening a photo refuses) where the photo cannot be opened or is another one.</returns>
    public static Outcome<byte[]> Draw(string photoPath, MeasuredLayout rod, WhatIfReport report, OverlayOptions? options = null)
    {
        Outcome<UprightPhoto> opened = PhotoOpener.Open(photoPath, PhotoLimits.Default);
        if (opened.Value is not { } found)
            return Outcome<byte[]>.Refused(opened.Findings[0].Code, $"The photo for the overlay cannot be opened: {opened.Findings[0].Message} Say where the photo lies.");
        using UprightPhoto photo = found;
        return photo.Info.Sha256 == rod.Measurement.Photo?.Sha256
            ? Outcome<byte[]>.Of(Draw(photo, rod, report, options))
            : Outcome<byte[]>.Refused(FindingCode.FileUnreadable, "The photo is not the one that was measured: name the one that was.");
    }

    /// <summary>Draws the overlay as a PNG file's bytes; the same input gives the same bytes.</summary>
    public static byte[] Draw(UprightPhoto photo, MeasuredLayout rod, WhatIfReport report, OverlayOptions? options = null)
    {
        OverlayOptions o = options ?? new OverlayOptions();
        Measurement after = AsMeasured(rod, report.After);
        return AnnotatedPhoto.Draw(photo, Head(report, o.Unit), Foot(report, after, o.Unit), o.MaxSidePx, (brush, scale, top, frame) =>
        {
            RodSketch sketch = new(after, scale, top);
            OverlayMarks marks = new(after, sketch, brush);
            marks.Axis();
            foreach (JudgedPair p in Changed(report.Before, report.After))
                brush.Segment(Px(report.Before, p.From), Px(report.Before, p.To), Palette.Line, 1.3f, OverlayMarks.GhostDash, halo: 0.6f);
            foreach (JudgedPair p in report.After.Pairs)
                brush.Segment(sketch.Ring(p.From).ToSk(), sketch.Ring(p.To).ToSk(), Palette.Ghost, 1.6f, halo: 0.7f);
            OverlayLabels labels = new(after, sketch, marks, brush, frame, o.Unit);
            labels.DrawLeaders();
            foreach (IntervalReport pair in after.Intervals)
                marks.GapBar(pair);
            marks.Worst();
            foreach (IntervalReport pair in after.Intervals.Where(p => p.TouchesBlank))
                marks.Touch(pair);
            foreach (JudgedGuide g in report.Before.Guides.Where(g => !Stands(g, report.After)))
                brush.Circle(Px(report.Before, g.Guide), OverlayMarks.RingRadius, Palette.Line, 1.3f, OverlayMarks.InferredDash, halo: 0.7f);
            marks.Rings();
            labels.Draw();

            SKPoint Px(JudgedLayout layout, int guide) => sketch.OnCanvas(layout.Guides[guide - 1].RingPx).ToSk();
        });
    }

    /// <summary>The layout as if it had been measured, for the marks of the overlay.</summary>
    private static Measurement AsMeasured(MeasuredLayout rod, JudgedLayout layout) => rod.Measurement with
    {
        Guides = [.. layout.Guides.Select(g => new GuideReport(
            g.Guide, g.IsTip, new(g.StationMm, 0), g.FromReelMm, g.RingPx, new(g.HeightMm, g.HeightUncertaintyMm), g.RingOuterMm, g.LineAngleDeg, Source.Traced))],
        Intervals = [.. layout.Pairs.Select(p => new IntervalReport(
            p.From, p.To, p.ChordMm, new(p.GapMm, p.GapUncertaintyMm), p.GapAtMm, new(p.BowMm, p.BowUncertaintyMm), p.BowAtMm, p.ClearanceMm, p.ClearanceAtMm,
            p.TouchesBlank, Source.Traced))],
        Largest = new LargestReport(layout.LargestGap.From, layout.LargestGap.To, layout.LargestBow.From, layout.LargestBow.To),
        Running = layout.FollowsWorst is { } worst ? new RunningReport(layout.ReductionGuides, worst.From, worst.To, rod.Side == GuideSide.Outside) : null,
        Suggestion = null,
        Findings = [], // of the photo, and said where it was measured
    };

    private static bool Stands(JudgedGuide g, JudgedLayout after) => after.Guides.Any(a => a.MeasuredAs == g.Guide && a.RingPx == g.RingPx);

    private static IEnumerable<JudgedPair> Changed(JudgedLayout before, JudgedLayout after) => before.Pairs.Where(p => !after.Pairs.Any(a =>
        after.Guides[a.From - 1].RingPx == before.Guides[p.From - 1].RingPx && after.Guides[a.To - 1].RingPx == before.Guides[p.To - 1].RingPx));

    private static InfoStrip Head(WhatIfReport r, LengthUnit unit)
    {
        InfoStrip strip = new();
        strip.Add($"What if: follows worst: {Worst(r, r.After, unit)}", 32, Palette.Paper, bold: true);
        strip.Add($"Largest gap {Gap(r.After, unit)} · largest bow {Bow(r.After, unit)}", 26, Palette.Paper);
        strip.Add($"Now: follows worst: {Worst(r, r.Before, unit)}; largest gap {Gap(r.Before, unit)}", 23, Palette.Quiet);
        return strip;
    }

    private static string Worst(WhatIfReport r, JudgedLayout layout, LengthUnit unit) => layout.FollowsWorst is not { } p ? "unknown"
        : r.IsOutside ? $"clearance {Figure(layout, unit, p.ClearanceMm, p.ClearanceUncertaintyMm, p)}"
        : $"bow {Figure(layout, unit, p.BowMm, p.BowUncertaintyMm, p)}";

    private static string Gap(JudgedLayout layout, LengthUnit unit) => Figure(layout, unit, layout.LargestGap.GapMm, layout.LargestGap.GapUncertaintyMm, layout.LargestGap);

    private static string Bow(JudgedLayout layout, LengthUnit unit) => Figure(layout, unit, layout.LargestBow.BowMm, layout.LargestBow.BowUncertaintyMm, layout.LargestBow);

    private static string Figure(JudgedLayout layout, LengthUnit unit, double mm, double uncertaintyMm, JudgedPair pair)
    {
        string to = layout.Guides[pair.To - 1].IsTip ? "tip-top" : $"{pair.To}";
        return $"{UnitsInSentences.Figure(new(mm, uncertaintyMm), unit)}, guide {pair.From} to {to}";
    }

    private static InfoStrip Foot(WhatIfReport r, Measurement after, LengthUnit unit)
    {
        InfoStrip strip = new();
        foreach (string note in r.Notes.Skip(1))
            strip.Add(UnitsInSentences.Of(note, unit), 23, Palette.Line);
        strip.Add("Predicted on the measured bend, not photographed. Guides are numbered anew from the reel.", 23, Palette.Quiet);
        strip.AddKeys(
            [
                new("blank", (b, from, to) => b.Segment(from, to, Palette.Axis, 2.2f, OverlayMarks.AxisDash)),
                new("line then", (b, from, to) => b.Segment(from, to, Palette.Ghost, 2.2f)),
                new("line and ring now, where they differ", (b, from, to) => b.Segment(from, to, Palette.Line, 2, OverlayMarks.GhostDash)),
                new($"gap then, {UnitsInSentences.Name(unit)}", (b, from, to) => b.Segment(from, to, Palette.Gap, 3)),
                .. OverlayLegend.Worst(after) is { } worst ? (LegendKey[])[worst] : [],
            ],
            23,
            42);
        return strip;
    }
}
