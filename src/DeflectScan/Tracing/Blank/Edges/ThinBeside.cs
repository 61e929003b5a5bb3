namespace DeflectScan.Tracing.Blank;

/// <summary>
/// Tells a thin thing beside a bar, such as the line, from the bar's own outline: from outside inward the profile leaves the background, comes
/// back to it within the width of a line, and then leaves it again. A bar's shade and gloss come to the background's colour only by chance. The
/// shares are chosen.
/// </summary>
internal static class ThinBeside
{
    private const double ThickestMm = 0.7; // thicker than any line (common practice, no source)
    private const double BlurPx = 2; // what blur adds to a thin thing's width, both sides together
    private const double ThinShare = 1.5; // of the bar's half width: what is wider cannot be told from the bar
    private const double WallFromPx = 1.5; // the background's own colour is taken from there outward
    private const double WallToPx = 4.5;
    private const double BackShare = 0.35; // of the thin thing's contrast: less is the background again
    private const double WallShare = 0.1; // of the same: that little is the background itself
    private const double BarShare = 0.5; // of the same: what lies farther in stands out by that much
    private const double Opposite = -0.5; // cosine: a bar that goes from darker than the background to brighter passes through it on the way

    /// <summary>The gap behind a thin thing at an edge, where the background shows again; null where there is none.</summary>
    /// <param name="band">Profiles.</param>
    /// <param name="station">Which.</param>
    /// <param name="edgeMm">Offset of the edge.</param>
    /// <param name="side">+1: the edge lies on the normal's side of the bar.</param>
    /// <param name="depthMm">Distance from the edge to the bar's middle.</param>
    /// <param name="radiusMm">The bar's supposed half width.</param>
    public static ThinGap? Gap(ProfileBand band, int station, double edgeMm, int side, double depthMm, double radiusMm)
    {
        double px = 2 * band.StepMm;
        Colour wall = Wall(band, station, edgeMm, side, px);
        double reach = Math.Min(ThickestMm + (BlurPx * px), ThinShare * radiusMm);
        Colour thing = default;
        double at = 0;
        for (double d = -px; d <= Math.Min(reach, depthMm); d += band.StepMm)
        {
            Colour apart = Tone(band, station, edgeMm - (side * d)) - wall;
            if (apart.Length > thing.Length)
                (thing, at) = (apart, d);
        }

        double size = thing.Length;
        double rise = at;
        while (rise > -WallFromPx * px && (Tone(band, station, edgeMm - (side * rise)) - wall).Length > size / 2)
            rise -= band.StepMm;
        double gap = double.NaN;
        double level = 1;
        for (double d = at; d <= depthMm; d += band.StepMm)
        {
            Colour apart = Tone(band, station, edgeMm - (side * d)) - wall;
            level = Math.Min(level, apart.Dot(thing) / Math.Max(size * size, 1e-12));
            if (!double.IsNaN(gap))
            {
                if (apart.Length > BarShare * size && apart.Dot(thing) > Opposite * apart.Length * size)
                    return new ThinGap(gap, Math.Abs(level) < WallShare);
            }
            else if (apart.Length < BackShare * size)
            {
                gap = d;
            }
            else if (d > rise + reach)
            {
                return null;
            }
        }

        return null;
    }

    private static Colour Wall(ProfileBand band, int station, double edgeMm, int side, double px)
    {
        Colour sum = default;
        int count = 0;
        for (double d = WallFromPx * px; d <= WallToPx * px; d += band.StepMm, count++)
            sum += Tone(band, station, edgeMm + (side * d));
        return sum * (1.0 / count);
    }

    private static Colour Tone(ProfileBand band, int station, double offsetMm) => band.At(station, offsetMm).Tone;
}

/// <summary>Where the background shows between a thin thing and a bar.</summary>
/// <param name="InwardMm">Distance from the thin thing's edge.</param>
/// <param name="IsBackground">It is the background's own colour there, not merely near it.</param>
internal readonly record struct ThinGap(double InwardMm, bool IsBackground);
