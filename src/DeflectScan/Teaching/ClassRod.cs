namespace DeflectScan.Teaching;

/// <summary>Whether a student's figures stand.</summary>
public enum RodStanding
{
    /// <summary>Measured; the figures stand.</summary>
    Measured,

    /// <summary>A person should look first: figures are shown, but they count in no sentence about the class.</summary>
    LookFirst,

    /// <summary>Refused, failed, or not measured yet: no figures.</summary>
    NoFigures,
}

/// <summary>One figure of a rod's pair. mm; uncertainty expanded, 95 %.</summary>
public sealed record RodFigure(int From, int To, double Mm, double UncertaintyMm);

/// <summary>One rod of a class with its figures over the running pairs that are not in doubt; null where there is none.</summary>
/// <param name="Name">What stands on the board.</param>
/// <param name="Photo">What the student sent.</param>
/// <param name="Standing">Whether the figures stand.</param>
/// <param name="Why">Why there are none, or what to look at first; one sentence in mm. Null for a measured rod.</param>
public sealed record ClassRod(string Name, ClassPhoto Photo, RodStanding Standing, string? Why)
{
    /// <summary>"measured", "look_first" or "no_figures": as documents and tables spell it.</summary>
    public string StandingText => Standing switch { RodStanding.Measured => "measured", RodStanding.LookFirst => "look_first", _ => "no_figures" };

    /// <summary>The rod straightened; null without figures.</summary>
    public RodStrip? Strip { get; init; }

    /// <summary>Guides without the tip-top; null where that is in doubt.</summary>
    public int? Guides { get; init; }

    public bool IsOutside { get; init; }

    /// <summary>The largest running bow.</summary>
    public RodFigure? Bow { get; init; }

    /// <summary>The largest running gap.</summary>
    public RodFigure? Gap { get; init; }

    /// <summary>The least running clearance.</summary>
    public RodFigure? Clearance { get; init; }

    /// <summary>The line touches the blank somewhere between running guides.</summary>
    public bool Touches { get; init; }

    /// <summary>The smallest largest running bow that so many guides can have on this blank, mm, by the rule of <c>spacing</c>.</summary>
    public double? BestBowMm { get; init; }

    /// <summary>The target for this rod, mm; null for none.</summary>
    public double? TargetMm { get; init; }

    /// <summary>The largest running bow over the best possible one.</summary>
    public double? OverBest => Bow?.Mm / BestBowMm;

    /// <summary>Within the target as far as the figure is sure; null where there is none or it is not sure which.</summary>
    public bool? KeepsTarget => Bow is { } b && TargetMm is { } t ? b.Mm + b.UncertaintyMm <= t ? true : b.Mm - b.UncertaintyMm > t ? false : null : null;
}
