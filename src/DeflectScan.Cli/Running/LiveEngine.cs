using DeflectScan.Calibration;
using DeflectScan.Calibration.Lens;
using DeflectScan.Checking;
using DeflectScan.Findings;
using DeflectScan.Measuring;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Unrolled;

namespace DeflectScan.Cli.Running;

/// <summary>The real thing behind the face.</summary>
internal static class LiveEngine
{
    public static Engine Make() => new(Measure, DrawCard) { Check = Check, Calibrate = Calibrate };

    private static MeasuredPhoto Measure(string path, MeasureOptions options, IProgress<string> progress, CancellationToken cancel)
    {
        InputFile.MustBeThere(path);
        CheckLens(options.LensFile);
        MeasureRun run = MeasurePipeline.Run(path, options, progress, cancel);
        return new MeasuredPhoto(run.Measurement, Drawn(isBare: false).Overlay, Drawn(isBare: false).Unrolled, run) { Bare = Drawn(isBare: true) };

        (Func<byte[]>? Overlay, Func<byte[]>? Unrolled) Drawn(bool isBare) => (
            run.Photo is { } photo ? () => Overlay.Draw(photo, run.Measurement, new OverlayOptions(Unit: options.Units) { IsBare = isBare }) : null,
            run is { Photo: { } shown, Plane: { } plane, Axis: { } axis } && run.Measurement.Guides.Count > 0
                ? () => UnrolledStrip.Draw(shown, plane, axis, run.Measurement, new UnrolledOptions(Unit: options.Units) { IsBare = isBare })
                : null);
    }

    private static CheckReport Check(string path, bool atRest) =>
        PhotoChecker.Check(InputFile.MustBeThere(path), options: CheckOptions.Default with { AtRest = atRest });

    private static Outcome<LensCalibration> Calibrate(LensRequest request, IProgress<string> progress, CancellationToken cancel) =>
        LensCalibrator.FromFiles([.. request.Photos.Select(InputFile.MustBeThere)], request.Board, request.Name, null, progress, cancel);

    private static byte[] DrawCard(char letter, Paper paper, string kind)
    {
        using MemoryStream file = new();
        Action<char, Paper, Stream> write = kind switch { "pdf" => CardDrawing.WritePdf, "svg" => CardDrawing.WriteSvg, _ => CardDrawing.WritePng };
        write(letter, paper, file);
        return file.ToArray();
    }

    private static void CheckLens(string? file)
    {
        if (file is null)
            return;
        try
        {
            LensProfile.ReadFile(file);
        }
        catch (InvalidDataException e)
        {
            throw new UsageException(e.Message);
        }
    }
}
