using DeflectScan.Tracing;

namespace DeflectScan.Records.Model;

/// <summary>A guide as built, in the order from the reel to the tip-top.</summary>
/// <param name="Frame">The frame's style in the user's own words.</param>
/// <param name="RingSizeMm">Ring size as sold: about the ring's outer diameter.</param>
/// <param name="FromTipMm">Station along the blank from the tip end.</param>
/// <param name="FromReelMm">Station from the reel's front, where that is known.</param>
public sealed record GuideEntry(string? Frame, double? RingSizeMm, double FromTipMm, double? FromReelMm);

/// <summary>What a user says about a build. Only the name must be given; text is kept as typed.</summary>
public sealed record BuildFacts
{
    private const int MaxName = 200;
    private const int MaxText = 20_000;

    public required string Name { get; init; }

    public string? Owner { get; init; }

    /// <summary>The maker's designation as the user types it.</summary>
    public string? Blank { get; init; }

    /// <summary>mm, tip to butt end.</summary>
    public double? BlankLengthMm { get; init; }

    public int? Pieces { get; init; }

    /// <summary>Where the spine was found and how it was marked.</summary>
    public string? SpineMark { get; init; }

    public string? Handle { get; init; }

    /// <summary>1000, 2500, ….</summary>
    public int? ReelClass { get; init; }

    public string? Line { get; init; }

    /// <summary>Side of the bend that the guides stand on.</summary>
    public BendSide? Side { get; init; }

    /// <summary>What the rod is for.</summary>
    public string? Use { get; init; }

    public string? Remarks { get; init; }

    /// <summary>From the reel to the tip-top.</summary>
    public IReadOnlyList<GuideEntry> Guides { get; init; } = [];

    /// <summary>Whether other facts say the very same, guide by guide.</summary>
    public bool Says(BuildFacts other) => this with { Guides = [] } == other with { Guides = [] } && Guides.SequenceEqual(other.Guides);

    /// <summary>The first thing that cannot be kept, as one sentence for the user; null where all is well.</summary>
    public string? FirstProblem()
    {
        if (string.IsNullOrWhiteSpace(Name) || Name.Length > MaxName)
            return $"A build needs a name of at most {MaxName} characters.";
        if (new[] { Owner, Blank, SpineMark, Handle, Line, Use, Remarks }.Any(t => t?.Length > MaxText))
            return $"A text of a build may have at most {MaxText} characters.";
        if (BlankLengthMm is not (null or (>= 200 and <= 10_000)))
            return "The blank's length must be from 200 to 10000 mm.";
        if (Pieces is < 1 or > 20)
            return "A blank has from 1 to 20 pieces.";
        if (ReelClass is < 100 or > 100_000)
            return "A reel's class must be from 100 to 100000.";
        return GuideProblem();
    }

    private string? GuideProblem()
    {
        if (Guides.Count > 60)
            return "A build may have at most 60 guides.";
        foreach (GuideEntry g in Guides)
        {
            if (!(g.FromTipMm >= 0 && g.FromTipMm <= (BlankLengthMm ?? 10_000)))
                return $"A guide stands {g.FromTipMm:0.#} mm from the tip: that is not on the blank.";
            if (g.RingSizeMm is not (null or (> 0 and <= 100)) || g.FromReelMm is not (null or (> -2000 and <= 10_000)))
                return "A guide's ring size must be from 0 to 100 mm, its distance from the reel at most 10000 mm.";
        }

        for (int i = 1; i < Guides.Count; i++)
        {
            if (Guides[i].FromTipMm >= Guides[i - 1].FromTipMm)
                return "Guides must be given from the reel to the tip-top, each nearer to the tip than the one before.";
        }

        return null;
    }
}
