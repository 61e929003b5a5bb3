namespace DeflectScan.Layout.Start;

/// <summary>
/// Values of the trade, all of them common practice without a source, from memory: sensible to start with, to be changed by what the
/// builder has in hand. mm unless the name says otherwise.
/// </summary>
public static class GuidePractice
{
    /// <summary>Ring sizes that guides are made in; the number is about the ring's outer diameter in mm.</summary>
    public static IReadOnlyList<double> RingSizes { get; } = [4, 4.5, 5, 5.5, 6, 7, 8, 10, 12, 16, 20, 25, 30, 40];

    private static readonly (double Size, double Bore)[] Bores = [(4, 2.6), (6, 4), (10, 7), (16, 11.8), (25, 19), (40, 32)];

    private static readonly (int Class, double LipMm, double AxisHeightMm, double FirstGuideMm)[] Spools =
    [
        (1000, 38, 56, 480),
        (2000, 42, 60, 533),
        (2500, 45, 62, 560),
        (3000, 47, 64, 590),
        (4000, 51, 68, 640),
        (5000, 55, 72, 700),
    ];

    private static readonly (int Size, double FirstRing, double FirstGuideMm)[] TurningSpools =
    [
        (50, 8, 450), (100, 8, 460), (200, 10, 500), (300, 12, 530), (400, 16, 560),
    ];

    /// <summary>Line strength in kg that a diameter in mm carries: single filament, and braid; labels vary by a quarter.</summary>
    private static readonly (double Mm, double Kg)[] Monofilament = [(0.20, 3.1), (0.25, 5), (0.30, 7), (0.35, 9.2), (0.40, 12), (0.50, 18)];

    private static readonly (double Mm, double Kg)[] Braid = [(0.10, 6), (0.14, 10), (0.19, 14.5), (0.23, 20), (0.30, 29.5)];

    /// <summary>The hole of a ring of a size.</summary>
    public static double BoreMm(double ringSize) => Between(Bores, ringSize);

    /// <summary>The smallest made ring whose hole is at least <paramref name="boreMm"/>.</summary>
    public static double SmallestRing(double boreMm) => RingSizes.FirstOrDefault(s => BoreMm(s) >= boreMm, RingSizes[^1]);

    /// <summary>The made ring nearest to a size; of two as near the larger.</summary>
    public static double NearestRing(double size) => RingSizes.OrderBy(s => Math.Abs(s - size)).ThenByDescending(s => s).First();

    /// <summary>Spool lip diameter, height of the spool's axis over the blank's, and the first guide's distance from the reel's front, by reel class.</summary>
    public static (double LipMm, double AxisHeightMm, double FirstGuideMm) Spool(int reelClass)
    {
        (double, double)[] Column(Func<(int Class, double LipMm, double AxisHeightMm, double FirstGuideMm), double> of) =>
            [.. Spools.Select(s => ((double)s.Class, of(s)))];
        return (Between(Column(s => s.LipMm), reelClass), Between(Column(s => s.AxisHeightMm), reelClass), Between(Column(s => s.FirstGuideMm), reelClass));
    }

    /// <summary>The least and the largest reel class that these values speak of.</summary>
    public static (int Least, int Largest, int Usual) ReelClasses(RodKind kind) =>
        kind == RodKind.Casting ? (TurningSpools[0].Size, TurningSpools[^1].Size, 200) : (Spools[0].Class, Spools[^1].Class, 2000);

    /// <summary>Of a reel with a turning spool: the first ring's size, and the first guide's distance from the reel's front: 450 to 560 mm, farther for larger reels.</summary>
    public static (double FirstRing, double FirstGuideMm) TurningSpool(int size) => (
        NearestRing(Between([.. TurningSpools.Select(s => ((double)s.Size, s.FirstRing))], size)),
        Between([.. TurningSpools.Select(s => ((double)s.Size, s.FirstGuideMm))], size));

    public static double LineDiameterMm(LineKind kind, double strengthKg)
    {
        (double Mm, double Kg)[] table = kind == LineKind.Braid ? Braid : Monofilament;
        (double Mm, double Kg) near = strengthKg < table[0].Kg ? table[0] : table[^1];
        return strengthKg >= table[0].Kg && strengthKg <= table[^1].Kg
            ? Between([.. table.Select(t => (t.Kg, t.Mm))], strengthKg)
            : near.Mm * Math.Sqrt(strengthKg / near.Kg);
    }

    /// <summary>Thickness of the knot that joins a leader to the main line: about three diameters of the thicker of both.</summary>
    public static double KnotMm(double leaderDiameterMm, double lineDiameterMm) => 3 * Math.Max(leaderDiameterMm, lineDiameterMm);

    /// <summary>The smallest hole that a knot runs through freely: about three times its thickness.</summary>
    public static double BoreForKnotMm(double knotMm) => 3 * knotMm;

    /// <summary>Guides without the tip-top: one a foot of rod and one more; on a casting rod another, as the line must not fall on the blank.</summary>
    public static int GuideCount(RodKind kind, double rodLengthMm) =>
        (int)Math.Floor((rodLengthMm / 304.8) + 0.5) + (kind == RodKind.Casting ? 2 : 1);

    private static double Between((double X, double Y)[] table, double x)
    {
        int i = 1;
        while (i < table.Length - 1 && x > table[i].X)
            i++;
        double t = (x - table[i - 1].X) / (table[i].X - table[i - 1].X);
        return table[i - 1].Y + (t * (table[i].Y - table[i - 1].Y));
    }
}
