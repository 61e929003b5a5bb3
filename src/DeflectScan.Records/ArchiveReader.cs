using DeflectScan.Records.Finding;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Records;

/// <summary>Reads an archive. Every row is held against its hash as it is read. Not for several threads at once; open one each.</summary>
public sealed class ArchiveReader : IDisposable
{
    internal ArchiveReader(ArchivePaths paths, Database database)
    {
        Paths = paths;
        Database = database;
    }

    internal ArchivePaths Paths { get; }

    internal Database Database { get; }

    /// <summary>The archive's own id, given when it was made.</summary>

    public int BuildCount => Faults.Guarded(() => (int)(long)Database.Scalar("SELECT count(*) FROM builds")!);

    /// <summary>A build with all that belongs to it.</summary>
    /// <param name="buildId">The whole id.</param>
    /// <returns>Null where there is none.</returns>
    public Build? Build(string buildId) => Faults.Guarded(() => BuildReading.Read(Database, buildId));

    /// <summary>The build that a person means: by its id, the last digits of its id (at least four), its name, or how its name begins.</summary>
    /// <exception cref="ArchiveException">None or several: the sentence says so.</exception>
    public string Resolve(string reference) => Faults.Guarded(() => BuildReference.Resolve(Database, reference));

    /// <summary>Whether a build has this very name.</summary>
    public bool HasName(string name) => Faults.Guarded(() => Database.Scalar("SELECT 1 FROM summaries WHERE name = $1", name) is not null);

    /// <summary>A page of the list.</summary>
    /// <param name="page">From 1.</param>
    /// <param name="size">Builds on a page.</param>
    /// <param name="query">Which builds, in which order; null: all, the one that was changed last first.</param>
    public IReadOnlyList<BuildSummary> List(int page = 1, int size = 25, ListQuery? query = null) => Faults.Guarded(() => BuildFinder.Page(Database, page, size, query ?? ListQuery.All));

    /// <summary>How many builds such a list has.</summary>
    public int Count(ListQuery query) => Faults.Guarded(() => BuildFinder.Count(Database, query));

    /// <summary>Builds by words or likeness, best first, each with the reason.</summary>
    public IReadOnlyList<FoundBuild> Find(FindQuery query) => Faults.Guarded(() => BuildFinder.Find(Database, query));

    /// <summary>All proofs, summed up for each camera and set of cards.</summary>
    public IReadOnlyList<ProvedSet> ProvedSets() => Faults.Guarded(() => ProofRows.Sets(Database));

    /// <summary>A measurement's document as it was written.</summary>
    public string Document(StoredMeasurement measurement) => Faults.Guarded(() => Documents.Read(Database, measurement.DocumentSha256));

    /// <summary>A measurement as it was made.</summary>
    public Measurement Measurement(StoredMeasurement measurement) => MeasurementJson.Read(Document(measurement)).Value ?? throw Faults.Damaged("a measurement's document is of another kind");

    /// <summary>Where a measurement's photo lies. The file is the original: read it, never write to it.</summary>
    /// <exception cref="ArchiveException">It is missing.</exception>
    public string PhotoPath(StoredMeasurement measurement) => Faults.Guarded(() =>
    {
        Row photo = FactTables.Read(Database, Tables.Photos, "WHERE sha256 = $1", measurement.PhotoSha256) is [Row found]
            ? found
            : throw Faults.Damaged("a photo is not listed");
        string path = Paths.Photo(measurement.PhotoSha256, photo.Text("extension"));
        return File.Exists(path) ? path : throw Faults.Damaged("a photo's file is missing");
    });

    /// <summary>The text of the lens profile that a measurement was made with; null where none was given.</summary>
    public string? LensProfile(StoredMeasurement measurement) => measurement.LensSha256 is { } sha256
        ? Faults.Guarded(() => FactTables.Read(Database, Tables.Lenses, "WHERE sha256 = $1", sha256) is [Row lens]
            ? lens.Text("profile")
            : throw Faults.Damaged("a lens profile is missing"))
        : null;

    public void Dispose() => Database.Dispose();
}
