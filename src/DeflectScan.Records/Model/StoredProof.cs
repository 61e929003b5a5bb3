using DeflectScan.Proving;

namespace DeflectScan.Records.Model;

/// <summary>A proof as kept: a measurement held against readings by hand.</summary>
/// <param name="Id">Stable.</param>
/// <param name="MeasurementId">What was proved.</param>
/// <param name="At">UTC.</param>
/// <param name="Camera">Make and model as the photo names them.</param>
/// <param name="Cards">Letters of the scale cards.</param>
/// <param name="Verdict">What it came to.</param>
/// <param name="Cause">What was named first, as documents spell it; null where nothing was.</param>
/// <param name="ChiSquare">Of all readings.</param>
/// <param name="Probability">Of so much by chance.</param>
/// <param name="LargestEn">The largest E_n.</param>
/// <param name="Readings">Each with the photo's figure.</param>
public sealed record StoredProof(
    string Id, string MeasurementId, DateTime At, string Camera, string Cards, ProofVerdict Verdict, string? Cause, double ChiSquare, double Probability, double LargestEn,
    IReadOnlyList<ComparedReading> Readings);

/// <summary>All proofs of a camera with a set of cards: of each measurement the latest, of those that were not set aside.</summary>
/// <param name="Camera">Make and model.</param>
/// <param name="Cards">Letters.</param>
/// <param name="Rods">How many builds.</param>
/// <param name="Proofs">How many measurements.</param>
/// <param name="Readings">How many readings.</param>
/// <param name="LargestEn">Of all of them.</param>
/// <param name="ChiSquare">The sum.</param>
/// <param name="Disagreeing">How many of the proofs contradict their photo.</param>
/// <param name="TooRough">How many prove nothing; their readings count in no sum.</param>
public sealed record ProvedSet(string Camera, string Cards, int Rods, int Proofs, int Readings, double LargestEn, double ChiSquare, int Disagreeing, int TooRough)
{
    /// <summary>Whether uncertainties are stated too wide or too narrow; null where no readings count.</summary>
    public StatedOverFound? Stated => Readings == 0 ? null : StatedOverFound.Of(ChiSquare, Readings);

    /// <summary>At least one proof agrees and none contradicts.</summary>
    public bool IsProved => Disagreeing == 0 && Proofs > TooRough;

    /// <summary>The camera of a photo, as proofs keep it.</summary>
    public static string CameraOf(Measurement m) =>
        $"{m.Photo?.CameraMake} {m.Photo?.CameraModel}".Trim() is { Length: > 0 } named ? named : "unknown camera";

    /// <summary>Its cards.</summary>
    public static string CardsOf(Measurement m) => string.Join(", ", (m.Calibration?.Cards ?? []).Select(c => c.Letter).Order());
}
