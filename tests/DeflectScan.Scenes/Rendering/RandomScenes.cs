using System.Numerics;
using DeflectScan.Tracing;

namespace DeflectScan.Scenes.Rendering;

/// <summary>Scenes drawn at random: the variety that a folder of photographs does not have.</summary>
public static class RandomScenes
{
    private static readonly (int W, int H)[] Sizes = [(2048, 1536), (3264, 2448), (3264, 1836), (2976, 2232), (4032, 3024)];

    private static readonly Vector3[] Blanks =
    [
        new(0.03f, 0.03f, 0.035f), new(0.035f, 0.035f, 0.04f), new(0.10f, 0.015f, 0.02f), new(0.02f, 0.05f, 0.11f), new(0.015f, 0.07f, 0.03f),
        new(0.75f, 0.74f, 0.70f), new(0.55f, 0.42f, 0.12f), new(0.45f, 0.08f, 0.03f), new(0.30f, 0.31f, 0.33f), new(0.16f, 0.08f, 0.03f),
    ];

    private static readonly Vector3[] Lines = [new(0.03f, 0.22f, 0.5f), new(0.8f, 0.35f, 0.04f), new(0.62f, 0.8f, 0.06f), new(0.85f, 0.85f, 0.85f), new(0.6f, 0.05f, 0.15f), new(0.05f, 0.05f, 0.05f)];

    private static readonly Vector3[] LightWalls = [new(0.62f, 0.61f, 0.58f), new(0.55f, 0.6f, 0.66f), new(0.6f, 0.63f, 0.55f), new(0.45f, 0.36f, 0.26f), new(0.66f, 0.58f, 0.5f)];

    private static readonly Vector3[] DarkWalls = [new(0.05f, 0.055f, 0.06f), new(0.03f, 0.05f, 0.09f), new(0.09f, 0.06f, 0.04f), new(0.13f, 0.14f, 0.13f)];

    /// <summary>A scene that must measure well.</summary>
    /// <param name="seed">Same seed and difficulty: same scene.</param>
    /// <param name="difficulty">0: plain wall, good light; 1: cluttered wall, hard light, thin see-through line, noise.</param>
    public static SceneOptions Good(int seed, double difficulty)
    {
        Random r = new(unchecked((seed * 7919) + 17));
        bool casting = r.NextDouble() < 0.35;
        bool darkWall = r.NextDouble() < 0.1 + (0.25 * difficulty);
        Vector3 wall = Pick(r, darkWall ? DarkWalls : LightWalls) * (float)Between(r, 0.85, 1.1);
        Vector3 blank = Apart(r, Blanks, wall, 2.2);
        Vector3 line = Apart(r, Lines, wall, 1.6);
        (int w, int h) = Pick(r, Sizes);
        bool sideways = r.NextDouble() < 0.08;
        double elevation = Between(r, 30, 68);
        double cord = Between(r, -118, -80);
        double turn = Math.Min(Between(r, 42, 105), elevation - cord - 16);
        double length = Between(r, 1650, 2400);
        return new SceneOptions
        {
            Seed = seed,
            Name = $"random-{seed}",
            WidthPx = sideways ? h : w,
            HeightPx = sideways ? w : h,
            RollDeg = (sideways ? 90 : 0) + Between(r, -2.5, 2.5),
            Orientation = Pick(r, [1, 1, 1, 3, 6, 8]),
            Focal35Mm = Between(r, 23.5, 38),
            Distortion = Between(r, -0.025, 0.025),
            YawDeg = Between(r, -1, 1) * (5 + (9 * difficulty)),
            PitchDeg = Between(r, -2, 7),
            Fill = Between(r, 0.82, 0.97),
            PointsLeft = r.NextDouble() < 0.5,
            Side = casting ? BendSide.Outside : BendSide.Inside,
            Guides = casting ? r.Next(6, 12) : r.Next(5, 11),
            Unevenness = Between(r, 0, 0.5),
            BlankLengthMm = Math.Round(length),
            ButtMm = Between(r, 10.5, 14.5),
            TipMm = Between(r, 1.4, 2.2),
            TaperFullness = Between(r, 0.8, 1),
            StiffnessPower = Between(r, 2.9, 3.6),
            ButtElevationDeg = elevation,
            TipTurnDeg = turn,
            CordDeg = cord,
            CordMm = Between(r, 2, 4),
            LineMm = Between(r, 0.4 - (0.2 * difficulty), 0.42 - (0.16 * difficulty)),
            LineColour = line,
            LineOpacity = r.NextDouble() < 0.25 * difficulty ? 0.5 : 1,
            BlankColour = blank,
            Gloss = Between(r, 0.1, 1),
            WrapColour = Pick(r, Blanks),
            CorkHandle = r.NextDouble() < 0.5,
            VisibleFromMm = Between(r, 340, 480),
            Cards = r.NextDouble() < 0.15 ? 1 : r.Next(2, 4 + (int)(2 * difficulty)),
            Wall = (WallKind)r.Next(0, difficulty < 0.3 ? 2 : 6),
            WallColour = wall,
            WallMm = Between(r, 120, 800),
            Light = (LightKind)r.Next(0, difficulty < 0.2 ? 1 : 3),
            Cables = r.NextDouble() < difficulty ? r.Next(1, 4) : 0,
            Pictures = r.NextDouble() < difficulty ? r.Next(1, 4) : 0,
            Shelf = r.NextDouble() < 0.6 * difficulty,
            Exposure = Between(r, 0.75, 1.1),
            BlurPx = Between(r, 0.45, 0.75),
            ShotNoise = Between(r, 0.5e-4, 1e-4 + (1e-4 * difficulty)),
            ReadNoise = Between(r, 4e-4, 9e-4),
            Sharpen = Between(r, 0.1, 0.45),
            JpegQuality = r.Next(84, 95),
        };
    }

    /// <summary>A scene drawn far wider: built-up rods with tubing, any wall and clutter, hand-held phones (difficulty 0 to 1).</summary>
    public static SceneOptions Wide(int seed, double difficulty) => WideScenes.Of(seed, difficulty);

    /// <summary>A scene that must be refused or go to review.</summary>
    /// <param name="seed">Same seed and defect: same scene.</param>
    /// <param name="defect">What is wrong with it.</param>
    public static SceneOptions Bad(int seed, Defect defect)
    {
        SceneOptions good = Good(seed, 0.3);
        SceneOptions bad = good with { Defect = defect, Name = $"bad-{Spell(defect)}-{seed}" };
        return defect switch
        {
            Defect.NoCard => bad with { Cards = 0 },
            Defect.CardOffPlane => bad with { Cards = 2, CardZMm = [0, seed % 2 == 0 ? 60 : -60] },
            Defect.Blurred => bad with { BlurPx = 9 },
            Defect.LargeTilt => bad with { YawDeg = seed % 2 == 0 ? 47 : -47 },
            Defect.CardTooSmall => bad with { WidthPx = 1600, HeightPx = 1200, Fill = 0.3, RollDeg = 1 },
            _ => bad,
        };
    }

    private static string Spell(Defect defect) => string.Concat(defect.ToString().Select((c, i) => char.IsUpper(c) && i > 0 ? $"-{char.ToLowerInvariant(c)}" : $"{char.ToLowerInvariant(c)}"));

    private static double Between(Random r, double a, double b) => a + ((b - a) * r.NextDouble());

    private static T Pick<T>(Random r, IReadOnlyList<T> from) => from[r.Next(from.Count)];

    // A blank (or line) of the wall's own brightness cannot be seen by anyone: take one that differs by a factor or in colour.
    private static Vector3 Apart(Random r, IReadOnlyList<Vector3> from, Vector3 wall, double factor)
    {
        for (int i = 0; i < 100; i++)
        {
            Vector3 c = Pick(r, from);
            double ratio = (Luma(c) + 0.01) / (Luma(wall) + 0.01);
            if (ratio > factor || ratio < 1 / factor)
                return c;
        }

        return from[0];
    }

    private static double Luma(Vector3 c) => (0.2126 * c.X) + (0.7152 * c.Y) + (0.0722 * c.Z);
}
