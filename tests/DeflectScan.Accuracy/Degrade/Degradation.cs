using DeflectScan.Geometry;
using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Accuracy.Degrade;

/// <summary>One way to make a photo worse.</summary>
/// <param name="Name">What it does.</param>
/// <param name="JpegQuality">Quality of the new file.</param>
/// <param name="Map">How the pixels move, from the truth and chance.</param>
/// <param name="Change">What happens to the pixels, in place, after they moved.</param>
internal sealed record Degradation(string Name, int JpegQuality, Func<Truth, Random, PixelMap> Map, Action<Mat, Truth, Random> Change)
{
    public static IReadOnlyList<Degradation> All { get; } =
    [
        Pixels("blur-1", (m, _, _) => Cv2.GaussianBlur(m, m, new Size(0, 0), 1)),
        Pixels("blur-2", (m, _, _) => Cv2.GaussianBlur(m, m, new Size(0, 0), 2)),
        Pixels("blur-4", (m, _, _) => Cv2.GaussianBlur(m, m, new Size(0, 0), 4)),
        Pixels("noise-6", (m, _, r) => PixelChanges.Noise(m, 6, r)),
        Pixels("noise-15", (m, _, r) => PixelChanges.Noise(m, 15, r)),
        Pixels("dark", (m, _, _) => m.ConvertTo(m, -1, 0.45)),
        Pixels("bright", (m, _, _) => m.ConvertTo(m, -1, 1.35, 10)),
        Pixels("occluded-blank", (m, t, r) => PixelChanges.CoverBlank(m, t, r)),
        Pixels("occluded-guide", (m, t, r) => PixelChanges.CoverGuide(m, t, r)),
        new("jpeg-40", 40, (t, _) => Whole(t), (_, _, _) => { }),
        new("crop", 92, Crop, (_, _, _) => { }),
        Moves("half-size", t => Whole(t) with { Scale = 0.5 }),
        Moves("0.7-size", t => Whole(t) with { Scale = 0.7 }),
        Moves("1.4-size", t => Whole(t) with { Scale = 1.4 }),
        Moves("turned-90", t => Whole(t) with { QuarterTurns = 1 }),
        Moves("turned-180", t => Whole(t) with { QuarterTurns = 2 }),
        Moves("turned-270", t => Whole(t) with { QuarterTurns = 3 }),
    ];

    private static Degradation Pixels(string name, Action<Mat, Truth, Random> change) => new(name, 92, (t, _) => Whole(t), change);

    private static Degradation Moves(string name, Func<Truth, PixelMap> map) => new(name, 92, (t, _) => map(t), (_, _, _) => { });

    private static PixelMap Whole(Truth t) => PixelMap.Whole(t.Image.Displayed[0], t.Image.Displayed[1]);

    // Up to 12 % off each side.
    private static PixelMap Crop(Truth t, Random r)
    {
        (int w, int h) = (t.Image.Displayed[0], t.Image.Displayed[1]);
        int left = r.Next(0, w / 8);
        int top = r.Next(0, h / 8);
        return new PixelMap(left, top, w - left - r.Next(0, w / 8), h - top - r.Next(0, h / 8), 1, 0);
    }

    /// <summary>The changed picture; the caller disposes it.</summary>
    public Mat Apply(Mat bgr, PixelMap map, Truth warped, Random random)
    {
        using Mat cut = new(bgr, new Rect(map.Left, map.Top, map.CutWidth, map.CutHeight));
        Mat result = new();
        if (map.Scale == 1)
            cut.CopyTo(result);
        else
            Cv2.Resize(cut, result, new Size((int)Math.Round(map.CutWidth * map.Scale), (int)Math.Round(map.CutHeight * map.Scale)), interpolation: map.Scale < 1 ? InterpolationFlags.Area : InterpolationFlags.Cubic);
        if (map.QuarterTurns > 0)
            Cv2.Rotate(result, result, map.QuarterTurns switch { 1 => RotateFlags.Rotate90Clockwise, 2 => RotateFlags.Rotate180, _ => RotateFlags.Rotate90Counterclockwise });
        Change(result, warped, random);
        return result;
    }
}
