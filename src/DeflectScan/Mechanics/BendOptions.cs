namespace DeflectScan.Mechanics;

/// <summary>How finely a bend is solved.</summary>
public sealed record BendOptions
{
    /// <summary>
    /// Steps from tip to clamp of the fourth-order integration, finer towards the tip; at least 20. 160 keeps the shape of a tapered blank
    /// to about 1e-7 of its length.
    /// </summary>
    public int Steps { get; init; } = 160;

    /// <summary>Largest error of the clamp's angle in radians (and, with an anchor, of the cord's direction) at which the solution is taken.</summary>
    public double ToleranceRad { get; init; } = 1e-10;

    /// <summary>How much finer the first step at the tip is than an even one: 1 is even, 0.35 the default.</summary>
    public double TipStep { get; init; } = 0.35;

    /// <summary>About 9 digits on smooth blanks, ten times slower: for tables.</summary>
    public static BendOptions Table { get; } = new() { Steps = 1500, ToleranceRad = 1e-13 };
}
