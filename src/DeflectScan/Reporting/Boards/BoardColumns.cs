using System.Globalization;
using DeflectScan.Geometry;
using DeflectScan.Teaching;

namespace DeflectScan.Reporting.Boards;

/// <summary>A rod's figures as they stand in the board's columns.</summary>
public static class BoardColumns
{
    /// <summary>Heads of the columns, as they stand over each other and as a person says them.</summary>
    public static readonly IReadOnlyList<(string Head, string Says)> Heads =
    [
        ("bow", "largest running bow"), ("best", "best possible"), ("gap", "largest running gap"), ("clear", "least clearance"), ("guides", "guides"),
    ];

    /// <summary>One text a column; a dash where nothing is known.</summary>
    public static IReadOnlyList<string> Of(ClassRod rod, LengthUnit unit) =>
    [
        rod.Bow is { } bow ? Figure(bow, unit) : "–",
        rod.BestBowMm is { } best ? UnitsInSentences.Bare(best, unit) : "–",
        rod.Gap is { } gap ? Figure(gap, unit) : "–",
        rod.Clearance is { } clear ? rod.Touches ? "touches" : UnitsInSentences.Bare(clear.Mm, unit) : "–",
        rod.Guides is { } n ? n.ToString(CultureInfo.InvariantCulture) : "–",
    ];

    /// <summary>"Look first", or nothing for a measured rod.</summary>
    public static string? Standing(ClassRod rod) => rod.Standing switch
    {
        RodStanding.LookFirst => "Look first",
        RodStanding.NoFigures => "Not measured",
        _ => null,
    };

    /// <summary>"6.0 ±0.1".</summary>
    private static string Figure(RodFigure f, LengthUnit unit)
    {
        string text = UnitsInSentences.Figure(new(f.Mm, f.UncertaintyMm), unit);
        return text[..text.LastIndexOf(' ')].Replace("± ", "±", StringComparison.Ordinal);
    }
}
