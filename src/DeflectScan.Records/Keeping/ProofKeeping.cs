using DeflectScan.Proving;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Records.Keeping;

/// <summary>Keeping proofs with their builds, and what a camera and its cards have shown so far.</summary>
public static class ProofKeeping
{
    /// <summary>Keeps a proof with the build's measurement of the same document, else with its latest of the same photo; gives the proof's id.</summary>
    /// <exception cref="ArchiveException">The build has no measurement of that photo.</exception>
    public static string Add(ArchiveWriter writer, string buildId, Measurement measurement, ProofReport proof)
    {
        Build build = writer.Reader.Build(buildId) ?? throw Refused("The archive has no such build: nothing was added.");
        string document = Documents.HashOf(MeasurementJson.Write(measurement));
        StoredMeasurement meant = build.Measurements.LastOrDefault(m => m.DocumentSha256 == document)
            ?? build.Counting.LastOrDefault(m => m.PhotoSha256 == measurement.Photo?.Sha256)
            ?? throw Refused($"\"{build.Facts.Name}\" has no measurement of that photo: keep the photo with it first, then its proof.");
        return writer.AddProof(buildId, meant.Id, measurement, proof);
    }

    /// <summary>The builds that a proof of a measurement can be kept with: those that have its photo, not set aside.</summary>
    public static IReadOnlyList<(string Id, string Name)> BuildsOf(ArchiveReader reader, Measurement measurement) =>
    [
        .. Faults.Guarded(() => reader.Database.List(
                "SELECT build_id FROM measurements WHERE photo_sha256 = $1 UNION SELECT to_build_id FROM standings WHERE to_build_id IS NOT NULL AND measurement_id IN (SELECT id FROM measurements WHERE photo_sha256 = $1)",
                r => r.GetString(0),
                measurement.Photo?.Sha256))
            .Select(id => reader.Build(id)!).Where(b => b.Counting.Any(m => m.PhotoSha256 == measurement.Photo?.Sha256))
            .OrderBy(b => b.Facts.Name, StringComparer.OrdinalIgnoreCase).Select(b => (b.Id, b.Facts.Name)),
    ];

    /// <summary>
    /// One line on whether the camera and cards of a measurement have been proved; null where the archive has no proofs, is not there, is of another schema or cannot be
    /// read: a measurement never fails or waits for it.
    /// </summary>
    public static string? LineFor(string archiveFolder, Measurement measurement)
    {
        try
        {
            ArchivePaths paths = new(Path.GetFullPath(archiveFolder));
            if (measurement.Calibration is null || !File.Exists(paths.Database))
                return null;
            using Database database = Database.ForReading(paths.Database);
            if (database.SchemaVersion != Migration.Released[^1].To)
                return null;
            IReadOnlyList<ProvedSet> sets = ProofRows.Sets(database);
            return sets.Count == 0 ? null : Line(sets.FirstOrDefault(s => (s.Camera, s.Cards) == (ProvedSet.CameraOf(measurement), ProvedSet.CardsOf(measurement))));
        }
        catch (Exception)
        {
            return null;
        }
    }

    private static string Line(ProvedSet? set) => set switch
    {
        null => "Not proved yet by hand readings with this camera and these cards: hold some against a photo.",
        { Stated: { } stated } when set.IsProved => FormattableString.Invariant(
            $"Proved by hand with this camera and these cards: {Counted(set.Rods, "rod")}, {Counted(set.Readings, "reading")}, largest E_n {set.LargestEn:0.0}; {stated.Says} (stated over found {stated.Ratio:0.0}, {stated.Low:0.0} to {stated.High:0.0})."),
        { Disagreeing: > 0 } => FormattableString.Invariant($"Hand readings contradict this camera and these cards in {set.Disagreeing} of {Counted(set.Proofs, "proof")}: look at the kept proofs."),
        _ => "Hand readings with this camera and these cards were too rough to prove anything: look at the kept proofs.",
    };

    private static string Counted(int count, string what) => count == 1 ? $"1 {what}" : FormattableString.Invariant($"{count} {what}s");

    private static ArchiveException Refused(string message) => new(ArchiveProblem.Refused, message);
}
