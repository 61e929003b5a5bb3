using DeflectScan.Calibration;
using DeflectScan.Calibration.Lens;

namespace DeflectScan.Records.Model;

/// <summary>
/// A measurement as kept: what it can be made again from, and its main figures. Its whole document is read by its hash. Uncertainties 95 %.
/// </summary>
public sealed record StoredMeasurement
{
    public required string Id { get; init; }

    public required string BuildId { get; init; }

    public required string PhotoSha256 { get; init; }

    /// <summary>Hash of the lens profile's text; null where none was given.</summary>
    public string? LensSha256 { get; init; }

    public required string DocumentSha256 { get; init; }

    /// <summary>UTC.</summary>
    public required DateTime MadeAt { get; init; }

    /// <summary>Version, and commit where it was built from a repository: "0.1.0+174a8ea7".</summary>
    public required string ProgramVersion { get; init; }

    /// <summary>The settings as a document of <see cref="SettingsJson"/>.</summary>
    public required string Settings { get; init; }

    /// <summary>What the user calls it: "first test".</summary>
    public string? Label { get; init; }

    /// <summary>Set aside as wrong: kept and shown, but left out of comparisons, histories and lists.</summary>
    public bool IsSetAside { get; init; }

    /// <summary>Why; null where nothing was said.</summary>
    public string? AsideReason { get; init; }

    public required MeasurementStatus Status { get; init; }

    public string? Side { get; init; }

    public required double TracedLengthMm { get; init; }

    public required double TipTurnDeg { get; init; }

    /// <summary>The tip-top not counted.</summary>
    public required int GuideCount { get; init; }

    public double? LargestGapMm { get; init; }

    public double? LargestGapUncertaintyMm { get; init; }

    public double? LargestBowMm { get; init; }

    public double? LargestBowUncertaintyMm { get; init; }

    /// <summary>The running pair that follows worst; null where there is none or where the guides are in doubt. Made from the document.</summary>
    public WorstPair? Worst { get; init; }
}

/// <summary>A measurement that is to be kept.</summary>
/// <param name="Measurement">As measured from the photo; not a refused one.</param>
/// <param name="PhotoPath">The photo's file as given; it is copied and left as it is.</param>
/// <param name="Options">What it was measured with.</param>
/// <param name="LensProfile">The text of the lens profile that was given, if one was.</param>
/// <param name="Label">What the user calls it.</param>
public sealed record NewMeasurement(Measurement Measurement, string PhotoPath, MeasureOptions Options, string? LensProfile, string? Label)
{
    /// <summary>A measurement just made, with the lens profile that its options led to.</summary>
    public static NewMeasurement Of(Measurement measurement, string photoPath, MeasureOptions options, string? label)
    {
        LensProfile? profile = measurement.Photo is { } photo ? LensChoice.For(photo, options.LensFile, options.LensFolders).Profile : null;
        return new NewMeasurement(measurement, photoPath, options, profile?.Write(), label);
    }
}
