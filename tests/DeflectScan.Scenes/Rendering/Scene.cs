using DeflectScan.Calibration;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Rendering.Paint;
using DeflectScan.Scenes.Rendering.World;
using OpenCvSharp;

namespace DeflectScan.Scenes.Rendering;

/// <summary>
/// A synthetic photograph with its exact truth. The world is built in mm from the options, the camera placed so that all of it is in
/// the picture, and everything painted from back to front in linear light. Same options, same bytes.
/// </summary>
public sealed class Scene
{
    private const int BandRows = 128;
    private readonly RodBuild _rod;
    private readonly IReadOnlyList<CardStand> _cards;
    private readonly SceneCamera _camera;
    private readonly Foreground _front;

    public Scene(SceneOptions options)
    {
        Options = options;
        _rod = RodBuild.Of(options);
        _cards = CardPlacement.Of(options, options.SetUpTurnsDeg.Count == 0 ? [_rod] : [.. options.SetUpTurnsDeg.Select(t => RodBuild.Of(options with { TipTurnDeg = t }))]);
        _camera = CameraFor(options, _rod, _cards);
        _front = new Foreground(options, _camera, new Lighting(options), _rod, _cards);
        Truth = TruthOf.Scene(options, _rod, _cards, _camera, _front);
    }

    public SceneOptions Options { get; }

    public Truth Truth { get; }

    /// <summary>A scene that must measure well; difficulty 0 (plain) to 1 (cluttered, hard light, thin line).</summary>
    public static Scene Random(int seed, double difficulty) => new(RandomScenes.Good(seed, difficulty));

    /// <summary>A scene that must not be measured.</summary>
    public static Scene Bad(int seed, Defect defect) => new(RandomScenes.Bad(seed, defect));

    /// <summary>Something in front of the rod lies on this point of the picture.</summary>
    public bool IsCovered(Vec2 px) => _front.Hides(px);

    /// <summary>The picture as displayed, 8-bit BGR, before JPEG. The caller disposes it.</summary>
    public Mat Render()
    {
        using Mat pixels = Mat.FromPixelData(Options.HeightPx, Options.WidthPx, MatType.CV_8UC3, RenderPixels());
        return pixels.Clone();
    }

    /// <summary>The same as bytes, row by row; needs no library of OpenCV's.</summary>
    /// <param name="from">First row that is wanted; the others stay black where that saves work.</param>
    /// <param name="to">Last row that is wanted.</param>
    public byte[] RenderPixels(double from = 0, double to = double.MaxValue)
    {
        Lighting light = new(Options);
        IReadOnlyList<IPaint> paints = [.. Paints(light)];
        Sensor sensor = new(Options);
        byte[] bgr = new byte[Options.HeightPx * Options.WidthPx * 3];
        Canvas canvas = new(_camera, new RayGrid(_camera), BandRows + (2 * sensor.Margin));
        for (int top = 0; top < Options.HeightPx; top += BandRows)
        {
            int rows = Math.Min(BandRows, Options.HeightPx - top);
            if (top + rows < from || top > to)
                continue;
            canvas.Begin(top - sensor.Margin, rows + (2 * sensor.Margin));
            foreach (IPaint paint in paints)
            {
                (double first, double last) = paint.RowsPx;
                if (last >= canvas.Top && first <= canvas.Bottom)
                    paint.Paint(canvas);
            }

            sensor.Develop(canvas, bgr);
        }

        if (Options.Faults.Any)
            PhoneFaults.Apply(Options.Faults, Options.NoiseSeed ?? Options.Seed, bgr, Options.WidthPx, Options.HeightPx);
        return bgr;
    }

    /// <summary>The file as a phone would store it.</summary>
    public byte[] RenderJpeg(double from = 0, double to = double.MaxValue) => PhoneFile.Jpeg(Options, RenderPixels(from, to));

    /// <summary>Writes photo.jpg and truth.json into a folder, making it where needed.</summary>
    public void WriteTo(string folder)
    {
        Directory.CreateDirectory(folder);
        File.WriteAllBytes(Path.Combine(folder, "photo.jpg"), RenderJpeg());
        Truth.Write(Path.Combine(folder, "truth.json"));
    }

    private IEnumerable<IPaint> Paints(Lighting light)
    {
        Furniture furniture = new(Options, _camera, light, _rod);
        RodPainter rod = new(Options, _camera, light, _rod);
        Backdrop? backdrop = Options.Backdrop is null ? null : new Backdrop(Options, _camera, light, _rod);
        bool standing = Options.Defect != Defect.NoRod;
        return
        [
            backdrop?.Wall() ?? Wall.Of(Options, _camera, light),
            .. backdrop?.AtWall() ?? [],
            .. new Clutter(Options, _camera, light, _rod).All(),
            .. Shadows(light, rod, standing),
            new ShadowMask(Options, light),
            .. furniture.Bench(),
            .. backdrop?.BeforeWall() ?? [],
            .. standing ? furniture.Clamp().Take(2) : [],
            .. standing && !Options.AtRest ? furniture.Anchor() : [],
            .. furniture.Cards(_cards),
            .. standing ? rod.All() : [],
            .. standing ? furniture.Clamp().Skip(2) : [],
            .. _front.All,
        ];
    }

    private IEnumerable<IPaint> Shadows(Lighting light, RodPainter rod, bool standing)
    {
        foreach (Vec3 lamp in light.Lamps)
        {
            if (standing)
            {
                foreach ((IReadOnlyList<Vec3> points, Func<int, double> radius) in rod.Casters())
                    yield return new BarShadow(_camera, light, lamp, Options.WallMm, points, radius);
            }

            foreach (CardStand c in _cards)
            {
                Vec2[] board = [c.At(-15, -22.5), c.At(195, -22.5), c.At(195, 274.5), c.At(-15, 274.5)];
                yield return new PlateShadow(_camera, light, lamp, Options.WallMm, [.. board.Select(p => Vec3.InPlane(p, c.ZMm))]);
                yield return new BarShadow(_camera, light, lamp, Options.WallMm, [Vec3.InPlane(c.Centre, c.ZMm), new Vec3(c.Centre.X, RodBuild.BenchY, c.ZMm)], _ => 4.5);
            }
        }
    }

    private static SceneCamera CameraFor(SceneOptions o, RodBuild rod, IReadOnlyList<CardStand> cards)
    {
        Random r = new(unchecked((o.Seed * 7) + 77));
        double focal = o.Focal35Mm / Math.Sqrt((36.0 * 36) + (24 * 24)) * Math.Sqrt(((double)o.WidthPx * o.WidthPx) + ((double)o.HeightPx * o.HeightPx));
        Vec2 centre = new(((o.WidthPx - 1) / 2.0) + (0.004 * o.WidthPx * (r.NextDouble() - 0.5)), ((o.HeightPx - 1) / 2.0) + (0.004 * o.WidthPx * (r.NextDouble() - 0.5)));
        CameraModel lens = new(focal, centre, o.Distortion, -0.4 * o.Distortion, 4e-4 * (r.NextDouble() - 0.5), 4e-4 * (r.NextDouble() - 0.5), 0.1 * o.Distortion);
        SceneCamera aimed = new(lens, o.WidthPx, o.HeightPx, default, o.YawDeg, o.PitchDeg, o.RollDeg);
        Vec2[] rodPoints = [.. Enumerable.Range(0, 41).Select(i => rod.Blank.Point(rod.Blank.LengthMm * i / 40)), .. o.AtRest ? (Vec2[])[] : [rod.Anchor], rod.HangsTo - new Vec2(0, 40), rod.Reel];
        Vec3[] mustSee = [.. rodPoints.Select(p => Vec3.InPlane(p)), .. cards.SelectMany(c => new[] { c.At(-15, -23), c.At(195, -23), c.At(195, 275), c.At(-15, 275) }.Select(p => Vec3.InPlane(p, c.ZMm)))];
        SceneCamera fitted = Framing.Fit(aimed, mustSee, o.Fill);
        return o.Defect switch
        {
            Defect.TipCropped => Framing.PushOut(fitted, [At(rod.Blank.LengthMm - 60), At(rod.Blank.LengthMm)], [At(o.VisibleFromMm), At(rod.Blank.LengthMm * 0.7)]),
            Defect.ButtCropped => Framing.PushOut(fitted, [At(o.VisibleFromMm), At(o.VisibleFromMm + 80)], [At(o.VisibleFromMm + 300), At(rod.Blank.LengthMm)]),
            _ => fitted,
        };

        Vec3 At(double s) => Vec3.InPlane(rod.Blank.Point(s));
    }
}
