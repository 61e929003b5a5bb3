using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Model;
using DeflectScan.Reporting;
using SkiaSharp;

namespace DeflectScan.Records.Reports;

/// <summary>A picture of a report, as a JPEG file's bytes.</summary>
public sealed record ReportPicture(byte[] Jpeg, int WidthPx, int HeightPx)
{
    private const int Quality = 88;

    public static ReportPicture OfPng(byte[] png)
    {
        using SKBitmap bitmap = SKBitmap.Decode(png);
        using SKData data = bitmap.Encode(SKEncodedImageFormat.Jpeg, Quality);
        return new ReportPicture(data.ToArray(), bitmap.Width, bitmap.Height);
    }
}

/// <summary>The pictures of a build sheet, drawn from the photo of its latest measurement.</summary>
/// <param name="Overlay">The photo with what was measured; null where the photo is damaged.</param>
/// <param name="Unrolled">The blank straightened; null where the photo, measured again, does not give the stored figures.</param>
/// <param name="Remark">Why a picture is missing; null where none is.</param>
public sealed record SheetPictures(ReportPicture? Overlay, ReportPicture? Unrolled, string? Remark)
{
    /// <summary>Draws them. The strip needs the rod plane, so the photo is measured again; its figures are never taken from there.</summary>
    public static SheetPictures Draw(ArchiveReader reader, StoredMeasurement stored)
    {
        try
        {
            using MeasureRun run = Remeasuring.Run(reader, stored);
            Measurement kept = reader.Measurement(stored);
            if (run.Photo is not { } photo)
                return new SheetPictures(null, null, "The photo cannot be opened: deflectscan records verify says why.");
            ReportPicture overlay = ReportPicture.OfPng(DeflectScan.Reporting.Overlay.Draw(photo, kept));
            bool same = Remeasuring.Compare(reader, stored, run.Measurement) == RemeasureVerdict.Same;
            return same && run is { Plane: { } plane, Axis: { } axis } && kept.Guides.Count > 0
                ? new SheetPictures(overlay, ReportPicture.OfPng(UnrolledStrip.Draw(photo, plane, axis, kept)), null)
                : new SheetPictures(overlay, null, "The straightened blank is left out: this version of the program does not trace the photo just as the one that made the figures.");
        }
        catch (ArchiveException e) when (e.Problem == ArchiveProblem.Damaged)
        {
            return new SheetPictures(null, null, e.Message);
        }
    }
}
