using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Drawing;
using DeflectScan.Reporting.Unrolled;

namespace DeflectScan.Records.Reports;

/// <summary>The pictures of a build sheet, drawn from the photo of its latest measurement.</summary>
/// <param name="Overlay">The photo with what was measured; null where the photo is damaged.</param>
/// <param name="Unrolled">The blank straightened; null where the photo, measured again, is not traced where the stored figures have it.</param>
/// <param name="Remark">Why a picture is missing; null where none is.</param>
public sealed record SheetPictures(ReportPicture? Overlay, ReportPicture? Unrolled, string? Remark)
{
    /// <summary>Px of the photo that nobody sees on a printed strip.</summary>
    private const double AlikePx = 4;

    /// <summary>mm; the butt's end of a trace may come out a little elsewhere.</summary>
    private const double AlikeEndMm = 60;

    /// <summary>Draws them. The strip needs the rod plane, so the photo is measured again; its figures are never taken from there.</summary>
    /// <param name="reader">The archive.</param>
    /// <param name="stored">The measurement.</param>
    /// <param name="measure">What measures; null for the program's own way.</param>
    public static SheetPictures Draw(ArchiveReader reader, StoredMeasurement stored, Func<string, MeasureOptions, MeasureRun>? measure = null)
    {
        try
        {
            using MeasureRun run = Remeasuring.Run(reader, stored, measure);
            Measurement kept = reader.Measurement(stored);
            if (run.Photo is not { } photo)
                return new SheetPictures(null, null, "The photo cannot be opened: a check of the archive says why.");
            ReportPicture overlay = ReportPicture.OfPng(DeflectScan.Reporting.Overlay.Draw(photo, kept));
            bool same = Remeasuring.Compare(reader, stored, run.Measurement) == RemeasureVerdict.Same || LieAlike(kept, run.Measurement);
            if (kept.Guides.Count == 0)
                return new SheetPictures(overlay, null, null);
            return same && run is { Plane: { } plane, Axis: { } axis }
                ? new SheetPictures(overlay, ReportPicture.OfPng(UnrolledStrip.Draw(photo, plane, axis, kept)), null)
                : new SheetPictures(overlay, null, "The straightened blank is left out: this program traces the photo elsewhere than the one that made the figures.");
        }
        catch (ArchiveException e) when (e.Problem == ArchiveProblem.Damaged)
        {
            return new SheetPictures(null, null, e.Message);
        }
    }

    /// <summary>
    /// Whether another version of the program traces the blank where the stored figures have it, so that its straightened picture fits them: at
    /// every station within <see cref="AlikePx"/> in the photo.
    /// </summary>
    internal static bool LieAlike(Measurement kept, Measurement again)
    {
        if (kept.Blank is not { Axis.Count: > 1 } a || again.Blank is not { Axis.Count: > 1 } b || Math.Abs(a.Axis[^1].SMm - b.Axis[^1].SMm) > AlikeEndMm)
            return false;
        int at = 0;
        foreach (AxisSample sample in a.Axis.Where(s => s.SMm <= b.Axis[^1].SMm))
        {
            while (at < b.Axis.Count - 2 && b.Axis[at + 1].SMm < sample.SMm)
                at++;
            (AxisSample from, AxisSample to) = (b.Axis[at], b.Axis[at + 1]);
            double share = (sample.SMm - from.SMm) / (to.SMm - from.SMm);
            if (Vec2.Lerp(from.Px, to.Px, share).DistanceTo(sample.Px) > AlikePx)
                return false;
        }

        return true;
    }
}
