using System.Numerics;
using DeflectScan.Scenes.Rendering.Paint;
using DeflectScan.Tracing;

namespace DeflectScan.Scenes.Rendering;

/// <summary>
/// Scenes drawn far wider than <see cref="RandomScenes.Good"/>: rods built up with tubing, bands, tape or thread, guides of many shapes,
/// any wall and clutter, clear and thin lines, hand-held phones. All must measure in principle; some are hard for a person too.
/// </summary>
internal static class WideScenes
{
    private static readonly Vector3[] Rubber =
    [
        new(0.018f, 0.018f, 0.018f), new(0.03f, 0.03f, 0.03f), new(0.5f, 0.24f, 0.04f), new(0.42f, 0.27f, 0.1f), new(0.55f, 0.54f, 0.5f), new(0.75f, 0.75f, 0.73f),
        new(0.45f, 0.03f, 0.02f), new(0.03f, 0.1f, 0.4f), new(0.18f, 0.18f, 0.18f), new(0.1f, 0.35f, 0.08f), new(0.6f, 0.45f, 0.05f),
    ];

    private static readonly Vector3[] Frames = [new(0.3f, 0.3f, 0.31f), new(0.5f, 0.5f, 0.5f), new(0.02f, 0.02f, 0.02f), new(0.5f, 0.36f, 0.1f), new(0.1f, 0.1f, 0.11f), new(0.25f, 0.2f, 0.18f), new(0.12f, 0.14f, 0.2f)];

    private static readonly Vector3[] Ceramics = [new(0.06f, 0.06f, 0.065f), new(0.02f, 0.02f, 0.02f), new(0.6f, 0.6f, 0.58f), new(0.3f, 0.3f, 0.32f), new(0.4f, 0.2f, 0.05f), new(0.1f, 0.16f, 0.3f), new(0.25f, 0.03f, 0.03f)];

    private static readonly Vector3[] Lines = [new(0.03f, 0.22f, 0.5f), new(0.8f, 0.35f, 0.04f), new(0.62f, 0.8f, 0.06f), new(0.85f, 0.85f, 0.85f), new(0.6f, 0.05f, 0.15f), new(0.02f, 0.02f, 0.02f), new(0.12f, 0.2f, 0.08f), new(0.85f, 0.2f, 0.5f), new(0.3f, 0.3f, 0.3f)];

    public static SceneOptions Of(int seed, double difficulty)
    {
        Random r = new(Mixed(seed));
        bool casting = r.NextDouble() < 0.4;
        BackdropOptions backdrop = Backdrop(r, difficulty);
        Vector3 wall = (backdrop.ColourA + backdrop.ColourB) / 2;
        Vector3 blank = Blank(r, wall);
        (int w, int h, bool rolled) = Size(r);
        double elevation = Between(r, 26, 70);
        double cord = Between(r, -119, -78);
        double turn = Math.Min(Between(r, 40, 108), elevation - cord - 16);
        bool clear = r.NextDouble() < 0.25 * (0.4 + difficulty);

        // A phone brightens a dark room.
        double exposure = Between(r, 0.75, 1.15) * Math.Clamp(Math.Pow(0.3 / (Luma(wall) + 0.01), 0.2), 0.9, 1.4);
        SceneOptions first = new()
        {
            Seed = seed,
            Name = $"wide-{seed}",
            WidthPx = w,
            HeightPx = h,
            RollDeg = (rolled ? 90 : 0) + Between(r, -3, 3),
            Orientation = Pick(r, [1, 1, 1, 1, 3, 6, 8]),
            Focal35Mm = Between(r, 21, 42),
            WritesFocal = r.NextDouble() < 0.9,
            Distortion = Between(r, -0.025, 0.025) * (r.NextDouble() < 0.2 ? 3 : 1),
            YawDeg = Between(r, -1, 1) * (5 + (9 * difficulty)),
            PitchDeg = Between(r, -3, 8),
            Fill = Between(r, 0.78, 0.97),
            PointsLeft = r.NextDouble() < 0.5,
            Side = casting ? BendSide.Outside : BendSide.Inside,
            Guides = casting ? r.Next(5, 15) : r.Next(4, 12),
            Unevenness = Between(r, 0, 0.7),
            BlankLengthMm = Math.Round(r.NextDouble() < 0.15 ? Between(r, 2400, 3200) : Between(r, 1550, 2400)),
            ButtMm = Between(r, 9, 16),
            TipMm = Between(r, 1.1, 2.6),
            TaperFullness = Between(r, 0.75, 1.05),
            StiffnessPower = Between(r, 2.8, 3.7),
            ButtElevationDeg = elevation,
            TipTurnDeg = turn,
            CordDeg = cord,
            CordMm = Between(r, 1.2, 5),
            LineMm = clear ? Between(r, 0.24, 0.42) : Between(r, 0.36 - (0.18 * difficulty), 0.45 - (0.12 * difficulty)),
            LineColour = Line(r, wall, clear, difficulty),
            LineOpacity = clear ? Between(r, 0.3, 0.65) : 1,
            BlankColour = blank,
            Gloss = Between(r, 0, 1),
            WrapColour = r.NextDouble() < 0.4 ? blank * 0.6f : Collage.Colour(r),
            CorkHandle = r.NextDouble() < 0.5,
            VisibleFromMm = Between(r, 330, 520),
            Cards = r.NextDouble() < 0.15 ? 1 : r.Next(2, 4 + (int)(1.5 * difficulty)),
            WallColour = wall,
            WallMm = 80 * Math.Pow(10, r.NextDouble()),
            Light = (LightKind)r.Next(0, difficulty < 0.15 ? 1 : 3),
            Cables = r.NextDouble() < 0.7 * difficulty ? r.Next(1, 5) : 0,
            Pictures = r.NextDouble() < 0.5 * difficulty ? r.Next(1, 4) : 0,
            Shelf = r.NextDouble() < 0.5 * difficulty,
            Exposure = exposure,
            BlurPx = Between(r, 0.42, 0.85),
            ShotNoise = Between(r, 0.5e-4, 1e-4 + (1.6e-4 * difficulty)),
            ReadNoise = Between(r, 4e-4, 1.2e-3),
            Sharpen = Between(r, 0, 0.6),
            JpegQuality = r.Next(76, 96),
            Backdrop = backdrop,
            Build = Build(seed, r, casting, blank, clear),
            Faults = Faults(r, difficulty),
        };
        return WideExtras.Widened(first, new Random(Mixed(unchecked(seed ^ 0x5EED0))), difficulty);
    }

    private static BuildOptions Build(int seed, Random r, bool casting, Vector3 blank, bool clear)
    {
        double kind = r.NextDouble();
        HolderKind holder = kind < 0.5 ? HolderKind.Tubing : kind < 0.62 ? HolderKind.Band : kind < 0.72 ? HolderKind.Tape : HolderKind.Thread;
        Vector3 colour = holder == HolderKind.Thread
            ? r.NextDouble() < 0.5 ? blank * 0.7f : Collage.Colour(r)
            : r.NextDouble() < 0.8 ? Pick(r, Rubber) * (float)Between(r, 0.8, 1.2) : Collage.Colour(r);
        bool glassy = holder == HolderKind.Tubing && r.NextDouble() < 0.25;
        return new BuildOptions
        {
            Holder = holder,
            HolderColour = colour,
            HolderOpacity = glassy ? Between(r, 0.35, 0.8) : 1,
            HolderMm = holder is HolderKind.Tape or HolderKind.Thread ? Between(r, 6, 16) : holder == HolderKind.Band ? Between(r, 2.5, 6) : Between(r, 4, 9),
            HolderThickMm = holder == HolderKind.Tape ? Between(r, 0.2, 0.5) : Between(r, 0.5, 1),
            HolderGloss = glassy ? 0.7 : Between(r, 0, 0.5),
            TrimBands = r.NextDouble() < 0.3,
            TrimColour = r.NextDouble() < 0.5 ? new Vector3(0.5f, 0.38f, 0.1f) : Collage.Colour(r),
            Spares = r.NextDouble() < 0.55 ? r.Next(1, 7) : 0,
            Decorations = r.NextDouble() < 0.5 ? r.Next(1, 5) : 0,
            HookKeeper = r.NextDouble() < 0.35,
            Frame = (FrameKind)r.Next(0, 4),
            FrameColour = Pick(r, Frames) * (float)Between(r, 0.7, 1.3),
            RingColour = Pick(r, Ceramics),
            FirstHeightMm = casting ? Between(r, 7, 17) : r.NextDouble() < 0.35 ? Between(r, 35, 60) : Between(r, 12, 35),
            LastHeightMm = Between(r, 4, 8),
            HeightFall = Between(r, 0.38, 0.85),
            RingByHeight = Between(r, 0.55, 1.1),
            SingleFootBelowMm = r.NextDouble() < 0.2 ? 0 : r.NextDouble() < 0.3 ? 60 : Between(r, 6, 20),
            FootForward = r.NextDouble() < 0.2,
            LeanDeg = Between(r, -1, 1) * (r.NextDouble() < 0.6 ? 22 : 6),
            TwistDeg = r.NextDouble() < 0.6 ? Between(r, 2, 10) : 0,
            AskewDeg = Between(r, 0, 10),
            SecondColour = r.NextDouble() < 0.15 ? Collage.Colour(r) : null,
            SecondFrom = Between(r, 0.25, 0.8),
            FerruleAt = r.NextDouble() < 0.35 ? Between(r, 0.42, 0.72) : null,
            Reel = r.NextDouble() < 0.19 ? ReelKind.None : casting ? ReelKind.Casting : ReelKind.Spinning,
            ReelScale = Between(r, 0.75, 1.25),
            ReelBackMm = 70 + (80 * new Random(unchecked((seed * 6151) + 5)).NextDouble()),
            ReelColour = r.NextDouble() < 0.5 ? new Vector3(0.02f) : Collage.Colour(r),
            GripColour = r.NextDouble() < 0.4 ? new Vector3(0.5f, 0.29f, 0.12f) * (float)Between(r, 0.7, 1.3) : r.NextDouble() < 0.7 ? new Vector3((float)Between(r, 0.015, 0.08)) : Collage.Colour(r),
            FittingColour = r.NextDouble() < 0.6 ? new Vector3((float)Between(r, 0.03, 0.5)) : Collage.Colour(r),
            GripMm = Between(r, 9.5, 15.5),
            GripShape = Between(r, 0, 0.3),
            SplitGrip = r.NextDouble() < 0.35,
            LineCore = clear ? Between(r, 0.2, 1) : 0,
            HangMm = Between(r, 60, 350),
            CordColour = r.NextDouble() < 0.4 ? new Vector3(0.55f, 0.53f, 0.46f) : Collage.Colour(r),
            CordTwistMm = Between(r, 1.5, 12),
            CordTwist = Between(r, 0, 0.5),
            ClampColour = Collage.Colour(r),
            ClampKind = r.Next(0, 4),
            PostMm = Between(r, 2, 14),
            PostColour = r.NextDouble() < 0.5 ? new Vector3(0.35f) : Collage.Colour(r),
        };
    }

    private static BackdropOptions Backdrop(Random r, double difficulty)
    {
        Vector3 a = r.NextDouble() < 0.6 ? new Vector3((float)Between(r, 0.3, 0.75)) * Tint(r) : Collage.Colour(r);
        if (Luma(a) < 0.025 && r.NextDouble() < 0.8)
            a = (a * 2) + new Vector3(0.02f);
        double contrast = difficulty * r.NextDouble();
        Vector3 b = Vector3.Lerp(a * (float)Between(r, 0.75, 1.15), Collage.Colour(r), (float)(0.8 * contrast * r.NextDouble()));
        bool plain = r.NextDouble() < 0.6 - (0.4 * difficulty);
        double wealth = difficulty;
        return new BackdropOptions
        {
            Pattern = plain ? Pattern.Mottled : (Pattern)r.Next(0, Enum.GetValues<Pattern>().Length),
            ColourA = a,
            ColourB = b,
            ColourC = Vector3.Lerp(a, r.NextDouble() < 0.5 ? a * 0.3f : Collage.Colour(r), (float)Between(r, 0.2, 1)),
            Scale = Between(r, 0.5, 2),
            TurnDeg = r.NextDouble() < 0.55 ? 0 : r.NextDouble() < 0.4 ? 90 : Between(r, -70, 70),
            Grain = Between(r, 0.1, 0.9),
            RackRods = r.NextDouble() < 0.45 * wealth ? r.Next(1, 8) : 0,
            RackLeanDeg = r.NextDouble() < 0.6 ? Between(r, -6, 6) : Between(r, -60, 60),
            SecondRodDeg = r.NextDouble() < 0.2 * wealth ? Between(r, -40, 40) : null,
            Posters = r.NextDouble() < 0.6 * wealth ? r.Next(1, 6) : 0,
            BenchThings = r.NextDouble() < wealth ? r.Next(1, 12) : 0,
            Arms = r.NextDouble() < 0.25 * wealth ? r.Next(1, 3) : 0,
            Lamps = r.NextDouble() < 0.25 * wealth ? r.Next(1, 3) : 0,
            Plants = r.NextDouble() < 0.25 * wealth ? r.Next(1, 4) : 0,
            WallTools = r.NextDouble() < 0.5 * wealth ? r.Next(1, 10) : 0,
            Battens = r.NextDouble() < 0.45 * wealth ? r.Next(1, 5) : 0,
        };
    }

    private static CameraFaults Faults(Random r, double difficulty) => new()
    {
        ShakePx = r.NextDouble() < 0.25 * difficulty ? Between(r, 0.8, 3.5) : 0,
        ShakeDeg = Between(r, 0, 180),
        Smear = r.NextDouble() < 0.3 * (0.3 + difficulty) ? Between(r, 0.1, 1) : 0,
        Halo = r.NextDouble() < 0.3 ? Between(r, 0.05, 0.4) : 0,
        HaloPx = Between(r, 8, 50),
        Contrast = r.NextDouble() < 0.5 ? Between(r, -0.35, 0.35) : 0,
        Red = r.NextDouble() < 0.5 ? Between(r, 0.85, 1.2) : 1,
        Blue = r.NextDouble() < 0.5 ? Between(r, 0.75, 1.2) : 1,
        Saturation = r.NextDouble() < 0.4 ? Between(r, 0.3, 1.3) : 1,
    };

    private static (int W, int H, bool Rolled) Size(Random r)
    {
        double draw = r.NextDouble();
        double megapixels = draw < 0.82 ? Between(r, 3, 6.2) : draw < 0.97 ? Between(r, 6.2, 12.5) : Between(r, 12.5, 24);
        double aspect = Pick(r, [4 / 3.0, 4 / 3.0, 3 / 2.0, 16 / 9.0]);
        double shape = r.NextDouble();
        int w = 8 * (int)Math.Round(Math.Sqrt(megapixels * 1e6 * aspect) / 8);
        int h = 8 * (int)Math.Round(Math.Sqrt(megapixels * 1e6 / aspect) / 8);
        return shape < 0.84 ? (w, h, false) : (h, w, shape > 0.95);
    }

    // Nobody could see a blank of the wall's own brightness: nine in ten differ clearly.
    private static Vector3 Blank(Random r, Vector3 wall)
    {
        for (int i = 0; ; i++)
        {
            double draw = r.NextDouble();
            Vector3 c = draw < 0.5 ? new Vector3((float)Between(r, 0.015, 0.06)) * Tint(r) : Collage.Colour(r);
            double ratio = (Luma(c) + 0.02) / (Luma(wall) + 0.02);
            if (ratio is > 1.9 or < 0.55 || i > 60 || r.NextDouble() < 0.05)
                return c;
        }
    }

    private static Vector3 Line(Random r, Vector3 wall, bool clear, double difficulty)
    {
        if (clear)
            return Vector3.Lerp(new Vector3((float)Between(r, 0.1, 0.9)), Collage.Colour(r), 0.2f);
        if (r.NextDouble() < 0.12 * difficulty)
            return wall * (float)Between(r, 0.75, 1.25);
        for (int i = 0; ; i++)
        {
            Vector3 c = r.NextDouble() < 0.7 ? Pick(r, Lines) : Collage.Colour(r);
            double ratio = (Luma(c) + 0.02) / (Luma(wall) + 0.02);
            if (ratio is > 1.7 or < 0.6 || Vector3.Distance(c, wall) > 0.35 || i > 60)
                return c;
        }
    }

    private static Vector3 Tint(Random r) => new((float)Between(r, 0.85, 1.12), (float)Between(r, 0.9, 1.06), (float)Between(r, 0.8, 1.15));

    // Neighbouring seeds give System.Random like first draws: SplitMix64 (Steele, Lea, Flood 2014) parts them.
    private static int Mixed(int seed)
    {
        ulong z = unchecked(((ulong)(uint)seed * 0x9E3779B97F4A7C15) + 0x632BE59BD9B4E019);
        z = unchecked((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9);
        z = unchecked((z ^ (z >> 27)) * 0x94D049BB133111EB);
        return (int)(z >> 33);
    }

    private static double Between(Random r, double a, double b) => a + ((b - a) * r.NextDouble());

    private static T Pick<T>(Random r, IReadOnlyList<T> from) => from[r.Next(from.Count)];

    private static double Luma(Vector3 c) => (0.2126 * c.X) + (0.7152 * c.Y) + (0.0722 * c.Z);
}
