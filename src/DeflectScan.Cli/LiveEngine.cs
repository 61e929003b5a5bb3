using DeflectScan.Findings;
using DeflectScan.Photos;

namespace DeflectScan.Cli;

/// <summary>The real thing behind the face.</summary>
internal static class LiveEngine
{
    public static Engine Make() => new(Measure, (_, _, _) => throw new NotSupportedException("drawing a card"));

    private static MeasuredPhoto Measure(string path, MeasureOptions options, IProgress<string> progress, CancellationToken cancel)
    {
        progress.Report("Opening the photo");
        Outcome<UprightPhoto> photo = PhotoOpener.Open(path, options.PhotoLimits);
        if (!photo.IsRefused)
            throw new NotSupportedException("measuring");
        return new MeasuredPhoto(new Measurement("0.1.0", null, MeasurementStatus.Refused, photo.Findings, null, null, null, [], null, [], null, null), null, null, null);
    }
}
