using DeflectScan.Findings;
using DeflectScan.Photos;

namespace DeflectScan.Checking;

/// <summary>Whether a photo will do for measuring.</summary>
public enum CheckVerdict
{
    /// <summary>Nothing stands against measuring it.</summary>
    Good,

    /// <summary>It can be measured, but a better photo would be surer: see the list.</summary>
    Doubtful,

    /// <summary>It cannot be measured as it is.</summary>
    Useless,
}

/// <summary>How far a photo has been looked at: each includes those before it.</summary>
public enum CheckReach
{
    /// <summary>The file and the cards.</summary>
    Cards,

    /// <summary>The blank, too, but not the line.</summary>
    Blank,

    /// <summary>Everything.</summary>
    Whole,
}

/// <summary>One thing that was looked at.</summary>
/// <param name="Name">What it is: "cards", "tilt", "sharpness" and so on; stable, for scripts.</param>
/// <param name="Verdict">Of this thing alone.</param>
/// <param name="Code">The measurement's code for the same fault; null where all is well.</param>
/// <param name="Seen">What was seen, with its figure.</param>
/// <param name="Do">What to do about it before the rod is let down; empty where all is well.</param>
/// <param name="Value">The figure, where there is one.</param>
/// <param name="Unit">Its unit: "px", "deg", "percent", "levels", "cards".</param>
public sealed record CheckItem(string Name, CheckVerdict Verdict, FindingCode? Code, string Seen, string Do, double? Value = null, string? Unit = null);

/// <summary>What a look at the photo shows before the real work.</summary>
/// <param name="Photo">The file's facts; null where it could not be opened.</param>
/// <param name="Items">In the order in which they matter.</param>
public sealed record CheckReport(PhotoInfo? Photo, IReadOnlyList<CheckItem> Items)
{
    /// <summary>How far the photo was looked at; whoever reads "good" has to know.</summary>
    public CheckReach Reach { get; init; } = CheckReach.Whole;

    /// <summary>The worst of the items.</summary>
    public CheckVerdict Verdict => Items.Count == 0 ? CheckVerdict.Good : Items.Max(i => i.Verdict);

    /// <summary>What to do, worst first.</summary>
    public IEnumerable<CheckItem> ToDo => Items.Where(i => i.Verdict != CheckVerdict.Good).OrderByDescending(i => i.Verdict);
}
