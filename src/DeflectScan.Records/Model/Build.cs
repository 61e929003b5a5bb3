namespace DeflectScan.Records.Model;

/// <summary>A build with everything that belongs to it, oldest first in every list.</summary>
/// <param name="Id">The same in every archive that holds it.</param>
/// <param name="CreatedAt">UTC.</param>
/// <param name="Facts">As last said.</param>
/// <param name="History">All that was said about it, with the time; the last one holds.</param>
/// <param name="Measurements">By the time they were made.</param>
/// <param name="Layouts">All that were considered.</param>
/// <param name="ChosenLayoutId">The one chosen last; null where none was.</param>
/// <param name="Notes">Notes, test casts and remarks.</param>
public sealed record Build(
    string Id,
    DateTime CreatedAt,
    BuildFacts Facts,
    IReadOnlyList<(DateTime At, BuildFacts Facts)> History,
    IReadOnlyList<StoredMeasurement> Measurements,
    IReadOnlyList<ConsideredLayout> Layouts,
    string? ChosenLayoutId,
    IReadOnlyList<BuildNote> Notes)
{
    /// <summary>Its measurements held against readings by hand.</summary>
    public IReadOnlyList<StoredProof> Proofs { get; init; } = [];

    /// <summary>The latest measurement that shows guides; where none does, the latest. A rod at rest or a bare blank does not stand for the build.</summary>
    public StoredMeasurement? LatestTest => Counting.LastOrDefault(m => m.GuideCount > 0) ?? Counting.LastOrDefault();

    /// <summary>The measurements that were not set aside.</summary>
    public IEnumerable<StoredMeasurement> Counting => Measurements.Where(m => !m.IsSetAside);

    public ConsideredLayout? ChosenLayout => Layouts.FirstOrDefault(l => l.Id == ChosenLayoutId);
}

public enum NoteKind
{
    Note,

    /// <summary>What was seen at a test cast.</summary>
    TestCast,

    Remark,
}

public sealed record BuildNote(string Id, DateTime At, NoteKind Kind, string Text);

/// <summary>A guide of a layout that was considered; from the reel to the tip-top, mm.</summary>
public sealed record LayoutStation(double FromTipMm, double? FromReelMm, double? RingSizeMm, double? HeightMm);

/// <summary>A layout that was considered.</summary>
/// <param name="Id">Stable.</param>
/// <param name="At">UTC.</param>
/// <param name="Name">As the user calls it.</param>
/// <param name="Basis">What it came from, in one sentence.</param>
/// <param name="Stations">From the reel to the tip-top.</param>
public sealed record ConsideredLayout(string Id, DateTime At, string Name, string Basis, IReadOnlyList<LayoutStation> Stations);

/// <summary>A build in a list: what it is and its latest figures.</summary>
public sealed record BuildSummary(
    string Id,
    DateTime ChangedAt,
    string Name,
    string? Owner,
    string? Blank,
    double? BlankLengthMm,
    int? ReelClass,
    string? Line,
    string? Side,
    string? Use,
    int MeasurementCount,
    double? TipTurnDeg,
    double? LargestGapMm,
    int? GuideCount)
{
    /// <summary>The running pair of the latest test that follows worst; null where there is none.</summary>
    public WorstPair? Worst { get; init; }
}
