using DeflectScan.Records.Model;

namespace DeflectScan.Records.Finding;

/// <summary>What a build is looked for by; whatever is null does not count.</summary>
public sealed record FindQuery
{
    /// <summary>Words that must all occur, each from its beginning, in any of a build's texts.</summary>
    public string? Text { get; init; }

    /// <summary>mm; near to this.</summary>
    public double? BlankLengthMm { get; init; }

    /// <summary>Degrees that the blank turns through from butt to tip under the test's load; near to this.</summary>
    public double? TipTurnDeg { get; init; }

    public int? ReelClass { get; init; }

    public string? Line { get; init; }

    /// <summary>"inside" or "outside".</summary>
    public string? Side { get; init; }

    public string? Use { get; init; }

    /// <summary>At most this many are given.</summary>
    public int Limit { get; init; } = 10;

    /// <summary>The same, with what is known of a build where nothing is asked for; the build itself is left out.</summary>
    public FindQuery Like(Build build) => this with
    {
        BlankLengthMm = BlankLengthMm ?? build.Facts.BlankLengthMm,
        TipTurnDeg = TipTurnDeg ?? build.LatestTest?.TipTurnDeg,
        ReelClass = ReelClass ?? build.Facts.ReelClass,
        Line = Line ?? build.Facts.Line,
        Side = Side ?? SideText.Of(build.Facts.Side) ?? build.LatestTest?.Side,
        Use = Use ?? build.Facts.Use,
        NotBuildId = build.Id,
    };

    /// <summary>A build that is not wanted: the one that others are to be like.</summary>
    public string? NotBuildId { get; init; }

    /// <summary>Whether anything but words is asked for.</summary>
    public bool AsksLikeness => BlankLengthMm is not null || TipTurnDeg is not null || ReelClass is not null || Line is not null || Side is not null || Use is not null;

    /// <summary>The first thing that nothing can be found by, as one sentence for the user; null where all is well.</summary>
    public string? FirstProblem()
    {
        if (Limit is < 1 or > 100 || BlankLengthMm is <= 0 || ReelClass is <= 0)
            return "Lengths and reel classes must be more than zero, and from 1 to 100 builds can be asked for.";
        return Text is null && !AsksLikeness ? "Say what to look for: words, a build to be like, a length, a tip turn, a reel, a line, a side or a use." : null;
    }
}

/// <summary>A build that was found.</summary>
/// <param name="Build">What it is.</param>
/// <param name="Likeness">From 0 to 1; 1: alike in all that was asked for. 1 for a search by words alone.</param>
/// <param name="Reason">In what it is like and unlike, in one line.</param>
public sealed record FoundBuild(BuildSummary Build, double Likeness, string Reason);
