namespace DeflectScan.Teaching;

/// <summary>What a student has sent and what came of it.</summary>
/// <param name="Student">The name, or a number; untrusted text.</param>
/// <param name="File">The photo's file name; untrusted text.</param>
/// <param name="Measurement">Null where something unexpected went wrong, or nothing is measured yet.</param>
/// <param name="Problem">What went wrong or is going on, one sentence; null where nothing is.</param>
/// <param name="Tries">Photos that the student has sent in all; this is the one that stands.</param>
public sealed record ClassPhoto(string Student, string File, Measurement? Measurement, string? Problem = null, int Tries = 1);

/// <summary>By what the rods of a class are sorted.</summary>
public enum ClassOrder
{
    /// <summary>As they came.</summary>
    Given,

    /// <summary>By the students' names.</summary>
    Name,

    /// <summary>By the largest running bow, the smallest first.</summary>
    Bow,

    /// <summary>By the largest running gap, the smallest first.</summary>
    Gap,

    /// <summary>By the least clearance, the largest first.</summary>
    Clearance,

    /// <summary>By the number of guides, the fewest first.</summary>
    Guides,

    /// <summary>By how near the largest running bow comes to what the blank allows with so many guides.</summary>
    Best,
}

/// <summary>How a class is looked at.</summary>
public sealed record ClassOptions
{
    /// <summary>The class's name, one line.</summary>
    public string Title { get; init; } = "Class";

    /// <summary>Largest running bow that the instructor asks for, mm (0.5 to 100). Null: none.</summary>
    public double? TargetBowMm { get; init; }

    /// <summary>The target of each rod is the best that so many guides can do on its blank, instead of one for all.</summary>
    public bool TargetIsBest { get; init; }

    /// <summary>Numbers stand for the names, given by the photos' hashes, so that the order of the names does not show through.</summary>
    public bool HideNames { get; init; }

    public ClassOrder Order { get; init; } = ClassOrder.Bow;

    /// <summary>All rods have the same blank: their layouts are put together.</summary>
    public bool IsSameBlank { get; init; }

    /// <summary>What is out of its range, one sentence; null where nothing is.</summary>
    public string? FirstProblem() =>
        TargetBowMm is not (null or (>= 0.5 and <= 100)) ? "The target is a bow from 0.5 to 100 mm, or best." : null;
}
