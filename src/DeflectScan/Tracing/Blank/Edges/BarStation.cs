namespace DeflectScan.Tracing.Blank;

/// <summary>One profile's reading of the bar.</summary>
/// <param name="S">Station on the base curve, mm.</param>
/// <param name="Left">Offset of the edge on the normal's side, mm; NaN where not seen.</param>
/// <param name="Right">Offset of the other edge, mm; NaN where not seen.</param>
/// <param name="LeftNoise">Background scatter beside the left edge as a share of the step: what spoils a half level.</param>
/// <param name="RightNoise">The same on the right.</param>
/// <param name="Score">Contrast to the weaker side, linear light.</param>
/// <param name="InThicker">A much thicker bar stands out clearly more there: a handle.</param>
/// <param name="LeftMoved">How far outward from its half level shade and gloss moved the left edge, mm.</param>
/// <param name="RightMoved">The same on the right.</param>
internal readonly record struct BarStation(
    double S, double Left, double Right, double LeftNoise, double RightNoise, double Score, bool InThicker, double LeftMoved, double RightMoved)
{
    public bool BothSeen => !double.IsNaN(Left) && !double.IsNaN(Right);

    public bool AnySeen => !double.IsNaN(Left) || !double.IsNaN(Right);

    /// <summary>The worse side's background scatter as a share of the step.</summary>
    public double Noise => Math.Max(LeftNoise, RightNoise);

    public double WidthMm => Left - Right;

    public double Centre => (Left + Right) / 2;
}

/// <summary>A colour in linear light, 0 to 1.</summary>
internal readonly record struct Colour(double B, double G, double R)
{
    public double Length => Math.Sqrt(Dot(this));

    /// <summary>As an eye sees steps: in linear light the gloss on a dark bar would outweigh its outlines.</summary>
    public Colour Tone => new(Math.Sqrt(Math.Max(0, B)), Math.Sqrt(Math.Max(0, G)), Math.Sqrt(Math.Max(0, R)));

    public double Dot(Colour o) => (B * o.B) + (G * o.G) + (R * o.R);

    public static Colour operator +(Colour a, Colour b) => new(a.B + b.B, a.G + b.G, a.R + b.R);

    public static Colour operator -(Colour a, Colour b) => new(a.B - b.B, a.G - b.G, a.R - b.R);

    public static Colour operator *(Colour a, double k) => new(a.B * k, a.G * k, a.R * k);
}
