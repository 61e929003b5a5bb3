using System.Collections.Concurrent;
using DeflectScan.Accuracy.Compare;
using DeflectScan.Findings;
using DeflectScan.Measuring;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Tests.Photos;
using OpenCvSharp;

namespace DeflectScan.Tests.Pipeline;

/// <summary>Measurements that tests of this room share, since each costs seconds: every photo or scene is measured once with no hint.</summary>
internal static class Measured
{
    /// <summary>Name of the collection that keeps the room's tests from running at the same time.</summary>
    public const string Collection = "whole photos";

    /// <summary>The test photos that can be measured.</summary>
    public static readonly string[] Good =
        ["casting-top", "clean-spinning", "clutter-bench", "one-card", "rotated-exif", "thin-braid", "wall-shadow", "yaw12"];

    private static readonly ConcurrentDictionary<string, Lazy<Measurement>> Photos = new(StringComparer.Ordinal);
    private static readonly ConcurrentDictionary<SceneOptions, Lazy<MeasuredScene>> Scenes = new();

    /// <summary>A test photo, no hint.</summary>
    public static Measurement Photo(string name) =>
        Photos.GetOrAdd(name, n => new Lazy<Measurement>(() => MeasurePipeline.Measure(Repository.Photo(n), MeasureOptions.Default))).Value;

    /// <summary>A test photo beside its truth.</summary>
    public static PhotoComparison Compared(string name) => Comparison.Of(name, Photo(name), Repository.Truth(name));

    /// <summary>A rendered scene, no hint.</summary>
    public static MeasuredScene Scene(SceneOptions options) => Scenes.GetOrAdd(options, o => new Lazy<MeasuredScene>(() => Render(o))).Value;

    /// <summary>Pixels as a photo file without EXIF and without loss.</summary>
    public static Measurement Pixels(Mat bgr)
    {
        using TempFolder folder = new();
        Cv2.ImEncode(".png", bgr, out byte[] png, [(int)ImwriteFlags.PngCompression, 1]);
        return MeasurePipeline.Measure(folder.File("photo.png", png), MeasureOptions.Default);
    }

    /// <summary>Codes of what a person should look at.</summary>
    public static IReadOnlyList<string> Codes(Measurement m) => [.. m.Findings.Where(f => f.Severity != Severity.Note).Select(f => f.CodeText)];

    private static MeasuredScene Render(SceneOptions options)
    {
        using TempFolder folder = new();
        Scene scene = new(options);
        Measurement m = MeasurePipeline.Measure(folder.File("photo.jpg", scene.RenderJpeg()), MeasureOptions.Default);
        return new MeasuredScene(scene.Truth, m, Comparison.Of(options.Name, m, scene.Truth));
    }
}

/// <summary>A rendered scene as measured.</summary>
internal sealed record MeasuredScene(Truth Truth, Measurement Measurement, PhotoComparison Compared);
