using DeflectScan.Measuring;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Unrolled;
using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Pictures;

/// <summary>The figures of docs/: a drawing of the set-up, and what a measurement of a test photo looks like.</summary>
internal static class DocFigures
{
    private const string Example = "yaw12";

    public static int Write()
    {
        string folder = Path.Combine(Repository.Root, "docs", "figures");
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, "set-up.svg"), SetUpDrawing.Side());
        File.WriteAllText(Path.Combine(folder, "set-up-above.svg"), SetUpDrawing.Above());
        using MeasureRun run = MeasurePipeline.Run(Repository.Photo(Example), MeasureOptions.Default);
        if (run is not { Photo: not null, Plane: not null, Axis: not null })
        {
            Console.Error.WriteLine($"The example photo was refused: {run.Measurement.Findings[0].Message}");
            return 3;
        }

        Small(Overlay.Draw(run.Photo, run.Measurement), Path.Combine(folder, "overlay.jpg"), 1080);
        Small(UnrolledStrip.Draw(run.Photo, run.Plane, run.Axis, run.Measurement), Path.Combine(folder, "unrolled.jpg"), 1080);
        return 0;
    }

    /// <summary>A picture small enough for a page: JPEG, under 300 KB.</summary>
    private static void Small(byte[] png, string path, int widthPx)
    {
        using Mat whole = Cv2.ImDecode(png, ImreadModes.Color);
        using Mat small = new();
        Cv2.Resize(whole, small, new Size(widthPx, whole.Rows * widthPx / whole.Cols), 0, 0, InterpolationFlags.Area);
        Cv2.ImWrite(path, small, new ImageEncodingParam(ImwriteFlags.JpegQuality, 82));
    }
}
