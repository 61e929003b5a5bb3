using DeflectScan.Photos;
using DeflectScan.Reporting.Cards;
using SkiaSharp;

namespace DeflectScan.Reporting.Drawing;

/// <summary>
/// One colour a role, the same in every picture. Chosen by lightness first and blue against yellow second, so that they stay apart for
/// people who lack one kind of cone; each role also has its own line style or shape.
/// </summary>
internal static class Palette
{
    /// <summary>The blank's centreline.</summary>
    public static readonly SKColor Axis = new(0x24, 0x56, 0xC8);

    /// <summary>The line through the guides.</summary>
    public static readonly SKColor Line = new(0xFF, 0xE0, 0x66);

    /// <summary>A gap between line and blank.</summary>
    public static readonly SKColor Gap = new(0xE8, 0x60, 0x2C);

    /// <summary>The largest gap.</summary>
    public static readonly SKColor Largest = new(0x8E, 0x0F, 0x4E);

    /// <summary>The suggested layout.</summary>
    public static readonly SKColor Ghost = new(0x4F, 0xE3, 0xC1);

    /// <summary>Light halo, text on dark ground.</summary>
    public static readonly SKColor Paper = new(0xFF, 0xFF, 0xFF);

    /// <summary>Dark halo, text on light ground.</summary>
    public static readonly SKColor Ink = new(0x10, 0x18, 0x20);

    /// <summary>Ground of strips and labels.</summary>
    public static readonly SKColor Panel = new(0x17, 0x21, 0x2B);

    /// <summary>Second-rank text on <see cref="Panel"/>.</summary>
    public static readonly SKColor Quiet = new(0xC4, 0xCD, 0xD6);

    /// <summary>The roles that a person must tell apart on the photo.</summary>
    public static IReadOnlyList<(string Name, SKColor Colour)> Roles { get; } =
        [(nameof(Axis), Axis), (nameof(Line), Line), (nameof(Gap), Gap), (nameof(Largest), Largest), (nameof(Ghost), Ghost)];

    /// <summary>Ink on light colours, paper on dark ones: by relative luminance (IEC 61966-2-1 weights on linear light).</summary>
    public static SKColor Against(SKColor colour) => Luminance(colour) > 0.25 ? Ink : Paper;

    /// <summary>Relative luminance, 0 to 1.</summary>
    public static double Luminance(SKColor c) => (0.2126 * Linear(c.Red)) + (0.7152 * Linear(c.Green)) + (0.0722 * Linear(c.Blue));

    private static double Linear(byte value) => CodedLight.Linear(value / 255.0);
}
