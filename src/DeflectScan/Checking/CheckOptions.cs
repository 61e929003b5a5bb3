namespace DeflectScan.Checking;

/// <summary>Bars of the look before the work. They are those of the measurement, or a little stricter: a photo can still be taken again.</summary>
public sealed record CheckOptions
{
    public static CheckOptions Default { get; } = new();

    /// <summary>Nothing pulls the rod: a nearly straight blank is looked for, and no line. Default false.</summary>
    public bool AtRest { get; init; }

    /// <summary>The blank is looked for in a picture of about this many pixels. Fewer: faster, and thin tips get lost.</summary>
    public double SearchPixels { get; init; } = 1.4e6;

    /// <summary>A square of a card smaller than this is worth a word, px along a side.</summary>
    public double SmallSquarePx { get; init; } = 20;

    /// <summary>Camera off square that is worth a word, degrees.</summary>
    public double TiltDeg { get; init; } = 12;

    /// <summary>Blur (sigma, px) at the cards' edges that is worth a word; a sharp phone photo has 0.5 to 0.8.</summary>
    public double BlurPx { get; init; } = 1.3;

    /// <summary>Blur (sigma, px) that spoils the edges of a thin blank.</summary>
    public double HopelessBlurPx { get; init; } = 3;

    /// <summary>Difference of a card's white and black squares in grey levels of 255 below which the light is worth a word.</summary>
    public double CardContrast { get; init; } = 70;

    /// <summary>A card's white squares brighter than this grey level are taken to be burnt out.</summary>
    public double BurntWhite { get; init; } = 252;

    /// <summary>Difference of blank and background, in grey or colour levels of 255, with which a place counts as standing out.</summary>
    public double BlankContrast { get; init; } = 14;

    /// <summary>Share of the blank's length that should stand out.</summary>
    public double BlankShare { get; init; } = 0.75;

    /// <summary>Thickness of the blank's tip in px that edges need to be told apart.</summary>
    public double TipPx { get; init; } = 2;

    /// <summary>Millimetres a pixel above which line and rings are too small to be sure of.</summary>
    public double CoarsestMmPerPx { get; init; } = 1.3;

    /// <summary>Share of the line's way on which it should show; the measurement asks for as much of its windows.</summary>
    public double LineShare { get; init; } = 0.85;

    /// <summary>A stretch of 13 mm shows the line when that is this much likelier than nothing there, as a logarithm.</summary>
    public double LineEvidence { get; init; } = 1.5;

    /// <summary>Sampling of the band that the line is looked for in, mm. Finer sees thinner lines and takes longer.</summary>
    public double LineStepMm { get; init; } = 0.8;

    /// <summary>Room between the blank and the picture's border, as a share of the shorter side, that is worth a word.</summary>
    public double LeastMargin { get; init; } = 0.015;
}
