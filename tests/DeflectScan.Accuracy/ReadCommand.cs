using System.CommandLine;
using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Measuring;
using DeflectScan.Scenes;
using DeflectScan.Tracing;
using DeflectScan.Tracing.Reading;
using OpenCvSharp;

namespace DeflectScan.Accuracy;

/// <summary>read: what the network and its decoder alone say of photos, against truth.</summary>
internal static class ReadCommand
{
    public static Command Create()
    {
        Argument<DirectoryInfo[]> folders = new("folders") { Description = "Folders with truth.json and photo.jpg in subfolders; testimages when none is given.", Arity = ArgumentArity.ZeroOrMore };
        Option<DirectoryInfo?> strips = new("--strips") { Description = "Write each strip here as a picture." };
        Command command = new("read", "Read strips and count rings that were missed or invented, before any line is fitted.") { folders, strips };
        command.SetAction(arguments => Run(PhotoSet.Read(PhotoSet.Folders(arguments.GetValue(folders))), arguments.GetValue(strips)));
        return command;
    }

    private static int Run(IReadOnlyList<PhotoCase> photos, DirectoryInfo? strips)
    {
        foreach (PhotoCase photo in photos.Where(p => p.Truth.ExpectsOk))
        {
            using MeasureRun run = MeasurePipeline.Run(photo.PhotoPath, MeasureOptions.Default);
            if (run.Photo is null || run.Plane is null || run.Axis is null)
            {
                Console.WriteLine($"{photo.Name,-18} no axis: {string.Join(" | ", run.Measurement.Findings.Select(f => f.Message))}");
                continue;
            }

            StripFrame frame = StripFrame.Of(run.Axis);
            using Mat strip = ReadingStrip.Sample(run.Photo.Bgr, run.Plane, run.Axis, frame);
            System.Diagnostics.Stopwatch watch = System.Diagnostics.Stopwatch.StartNew();
            StripReading reading = StripReader.Read(strip, frame);
            DecodedRings rings = RingDecoder.Decode(reading, null, run.Axis.HandleStationMm);
            double ms = watch.Elapsed.TotalMilliseconds;
            if (strips is not null)
            {
                strips.Create();
                Cv2.ImWrite(Path.Combine(strips.FullName, photo.Name + ".png"), strip);
            }

            (int missed, int invented, double[] errors) = Match(photo.Truth, rings);
            Console.WriteLine(
                $"{photo.Name,-18} {(missed + invented == 0 ? "ok " : "BAD")} {(rings.Inside == (photo.Truth.Side == "inside") ? "" : "SIDE ")}{rings.Rings.Count} rings, missed {missed}, invented {invented}, side {rings.SideProbability:0.0000}, worst {errors.DefaultIfEmpty(0).Max():0.0} mm, {ms:0} ms; "
                + Reel(photo.Truth, run.Measurement) + "; "
                + string.Join(" ", rings.Places.OrderByDescending(d => d.InUse ? 1 - d.Probability : d.Probability).Take(4).Select(d => $"{(d.InUse ? "+" : "-")}{d.Place.Station:0}:{d.Probability:0.000}")));
        }

        return 0;
    }

    // The reel's front against truth, and the worst of the guides' distances from it in parts of what is stated.
    private static string Reel(Truth truth, Measurement measured)
    {
        double station = truth.Blank.LengthMm - truth.Blank.ReelFrontSMm;
        if (measured.Blank?.Reel is not { StationMm: { } front, UncertaintyMm: { } stated })
            return $"reel {(truth.Reel is "none" ? "none" : $"at {station:0}")}, not seen";
        double worst = measured.Guides.SelectMany(g => truth.Guides.OrderBy(t => Math.Abs(t.FromTipMm - g.StationMm)).Take(1), (g, t) => Math.Abs((g.FromReelMm - t.FromReelMm) / g.FromReelUncertaintyMm ?? 0)).DefaultIfEmpty(0).Max();
        return $"reel {(truth.Reel is "none" ? "FALSE" : $"{front - station:+0.00;-0.00}")} of ±{stated:0.00} mm, guides' worst {worst:0.00}";
    }

    // Stations by the truth, from the tip.
    private static (int Missed, int Invented, double[] Errors) Match(Truth truth, DecodedRings rings)
    {
        double tip = rings.TipTop?.Station ?? 0;
        List<double> found = [.. rings.Rings.Select(r => r.Station - tip)];
        List<double> errors = [];
        int missed = 0;
        foreach (double s in truth.Guides.Where(g => g.Kind == "guide").Select(g => g.FromTipMm))
        {
            int near = found.FindIndex(f => Math.Abs(f - s) < 12);
            if (near < 0)
            {
                missed++;
                continue;
            }

            errors.Add(Math.Abs(found[near] - s));
            found.RemoveAt(near);
        }

        return (missed, found.Count, [.. errors]);
    }
}
