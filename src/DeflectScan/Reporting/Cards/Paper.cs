namespace DeflectScan.Reporting.Cards;

/// <summary>Paper that a card is printed on.</summary>
public enum Paper
{
    /// <summary>ISO 216: 210 × 297 mm.</summary>
    A4,

    /// <summary>US Letter (ANSI size A): 8.5 × 11 inches, 215.9 × 279.4 mm.</summary>
    Letter,
}

/// <summary>Paper sizes in mm, upright.</summary>
public static class PaperSize
{
    public static (double WidthMm, double HeightMm) Of(Paper paper) => paper switch
    {
        Paper.A4 => (210, 297),
        Paper.Letter => (8.5 * 25.4, 11 * 25.4),
        _ => throw new ArgumentOutOfRangeException(nameof(paper), paper, "No such paper."),
    };
}
