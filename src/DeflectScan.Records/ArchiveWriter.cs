using DeflectScan.Proving;
using DeflectScan.Records.Model;
using DeflectScan.Records.Schema;
using DeflectScan.Records.Storage;

namespace DeflectScan.Records;

/// <summary>
/// Writes to an archive, alone. What a method has given back is on the disk; what threw has changed nothing. Facts are only ever added.
/// Disposing closes the archive: the log goes into the database and the database is sealed.
/// </summary>
public sealed class ArchiveWriter : IDisposable
{
    private readonly WriteLock _lock;
    private readonly IDurableFiles _files;
    private readonly TimeProvider _clock;
    private bool _sealed;
    private bool _disposed;

    internal ArchiveWriter(ArchivePaths paths, WriteLock held, Database database, IDurableFiles files, TimeProvider clock, bool isSealed)
    {
        (Paths, _lock, Database, _files, _clock, _sealed) = (paths, held, database, files, clock, isSealed);
        Photos = new PhotoStore(paths, files);
        Reader = new ArchiveReader(paths, database);
    }

    /// <summary>Reads what has been written; shares this writer's connection, so it is not disposed by itself.</summary>
    public ArchiveReader Reader { get; }

    internal ArchivePaths Paths { get; }

    internal Database Database { get; }

    internal PhotoStore Photos { get; }

    /// <summary>Does several changes as one: all of them or none.</summary>
    public T AsOne<T>(Func<T> changes) => Faults.Guarded(() =>
    {
        if (Database.Transaction is not null)
            return changes();
        BreakSeal();
        try
        {
            Database.Begin();
            T result = changes();
            Photos.Keep();
            _files.Commit(Database.Transaction!);
            return result;
        }
        finally
        {
            Database.EndTransaction();
            Photos.TakeBack();
        }
    });

    /// <summary>A new build; gives its id.</summary>
    public string AddBuild(BuildFacts facts) => AsOne(() =>
    {
        string id = NewId();
        FactTables.AddNew(Database, new Row(Tables.Builds, id, Now()));
        Describe(id, facts);
        return id;
    });

    /// <summary>Says anew what a build is; what was said before stays in its history.</summary>
    public void ReviseBuild(string buildId, BuildFacts facts) => AsOne(() =>
    {
        Require(buildId);
        Describe(buildId, facts);
        return true;
    });

    /// <summary>Keeps a measurement with its photo, lens profile and settings.</summary>
    /// <returns>Its id, and whether the build had this very measurement already: then nothing was added.</returns>
    public (string Id, bool WasThere) AddMeasurement(string buildId, NewMeasurement made) => AsOne(() =>
    {
        Require(buildId);
        (string id, bool wasThere) = MeasurementWriting.Add(Database, Photos, buildId, made, NewId(), Next(buildId));
        Summaries.Refresh(Database, buildId);
        return (id, wasThere);
    });

    /// <summary>Adds a note, a test cast or a remark; gives its id.</summary>
    public string AddNote(string buildId, NoteKind kind, string text) => AsOne(() =>
    {
        const int MaxText = 100_000;
        if (string.IsNullOrWhiteSpace(text) || text.Length > MaxText)
            throw new ArchiveException(ArchiveProblem.Refused, $"A note needs a text of at most {MaxText} characters.");
        Require(buildId);
        string id = NewId();
        FactTables.AddNew(Database, new Row(Tables.Notes, id, buildId, RowsOf.Time(Next(buildId)), RowsOf.Kind(kind), text));
        Summaries.Refresh(Database, buildId);
        return id;
    });

    /// <summary>Keeps a proof of one of a build's measurements; gives its id.</summary>
    /// <param name="buildId">The build that the measurement is with now.</param>
    /// <param name="measurementId">What was proved.</param>
    /// <param name="measurement">Its document.</param>
    /// <param name="proof">What readings by hand came to.</param>
    public string AddProof(string buildId, string measurementId, Measurement measurement, ProofReport proof) => AsOne(() =>
    {
        Require(buildId);
        if (!Standings.Of(Database, buildId).Exists(m => m.Id == measurementId))
            throw new ArchiveException(ArchiveProblem.Refused, "The build has no such measurement: nothing was added.");
        string id = NewId();
        foreach (Row row in ProofRows.Of(id, buildId, measurementId, RowsOf.Time(Next(buildId)), measurement, proof))
            FactTables.AddNew(Database, row);
        Summaries.Refresh(Database, buildId);
        return id;
    });

    /// <summary>Adds a layout that is considered; gives its id.</summary>
    public string AddLayout(string buildId, string name, string basis, IReadOnlyList<LayoutStation> stations) => AsOne(() =>
    {
        if (string.IsNullOrWhiteSpace(name) || stations.Count is 0 or > 60)
            throw new ArchiveException(ArchiveProblem.Refused, "A layout needs a name and from 1 to 60 stations.");
        Require(buildId);
        string id = NewId();
        foreach (Row row in RowsOf.Layout(id, buildId, RowsOf.Time(Next(buildId)), name, basis, stations))
            FactTables.AddNew(Database, row);
        Summaries.Refresh(Database, buildId);
        return id;
    });

    /// <summary>Chooses one of a build's layouts.</summary>
    public void ChooseLayout(string buildId, string layoutId) => AsOne(() =>
    {
        if (FactTables.Read(Database, Tables.Layouts, "WHERE id = $1 AND build_id = $2", layoutId, buildId).Count == 0)
            throw new ArchiveException(ArchiveProblem.Refused, "The build has no such layout.");
        FactTables.AddNew(Database, new Row(Tables.Choices, NewId(), buildId, layoutId, RowsOf.Time(Next(buildId))));
        return true;
    });

    /// <summary>Sets a measurement of a build aside as wrong: it is kept and marked, and counts in nothing.</summary>
    /// <param name="buildId">The build that it is with now.</param>
    /// <param name="measurementId">Which one.</param>
    /// <param name="reason">Why; null where nothing is said.</param>
    public void SetAside(string buildId, string measurementId, string? reason) => Stand(buildId, measurementId, Standings.Aside, null, reason);

    /// <summary>Lets a measurement that was set aside count again.</summary>
    public void CountAgain(string buildId, string measurementId) => Stand(buildId, measurementId, Standings.Counts, null, null);

    /// <summary>Moves a measurement to the build that it is of.</summary>
    /// <param name="buildId">The build that it is with now.</param>
    /// <param name="measurementId">Which one.</param>
    /// <param name="toBuildId">Its right build.</param>
    public void MoveMeasurement(string buildId, string measurementId, string toBuildId) => Stand(buildId, measurementId, Standings.Moved, toBuildId, null);

    private void Stand(string buildId, string measurementId, string state, string? to, string? reason) => AsOne(() =>
    {
        const int MaxText = 10_000;
        Require(buildId);
        if (to is not null)
            Require(to);
        if (reason is { Length: > MaxText })
            throw new ArchiveException(ArchiveProblem.Refused, $"The reason may have at most {MaxText} characters.");
        if (!Standings.Of(Database, buildId).Exists(m => m.Id == measurementId))
            throw new ArchiveException(ArchiveProblem.Refused, "The build has no such measurement.");
        DateTimeOffset at = Next(buildId);
        if (to is not null && Next(to) > at)
            at = Next(to);
        string home = (string)Database.Scalar("SELECT build_id FROM measurements WHERE id = $1", measurementId)!;
        if (Next(home) > at)
            at = Next(home);
        FactTables.AddNew(Database, new Row(Tables.Standings, NewId(), home, measurementId, RowsOf.Time(at), state, to, reason));
        foreach (string build in new[] { home, buildId, to ?? buildId }.Distinct())
            Summaries.Refresh(Database, build);
        return true;
    });

    public void Dispose()
    {
        if (_disposed)
            return;
        _disposed = true;
        try
        {
            Faults.Guarded(() =>
            {
                bool whole = _sealed || Database.Checkpoint();
                Database.Dispose();
                if (!_sealed && whole && !Paths.HasLog)
                    PageSeal.Write(_files, Paths);
                return true;
            });
        }
        catch (ArchiveException e) when (e.Problem is ArchiveProblem.DiskFull or ArchiveProblem.InUse or ArchiveProblem.ReadOnly)
        {
            // All that was acknowledged is in the log or the database; the next one that writes seals it.
        }
        finally
        {
            Database.Dispose();
            _lock.Dispose();
        }
    }

    internal void BreakSeal()
    {
        if (!_sealed)
            return;
        PageSeal.Break(_files, Paths);
        _sealed = false;
    }

    private void Describe(string buildId, BuildFacts facts)
    {
        if (facts.FirstProblem() is { } problem)
            throw new ArchiveException(ArchiveProblem.Refused, problem);
        foreach (Row row in RowsOf.Revision(NewId(), buildId, RowsOf.Time(Next(buildId)), facts))
            FactTables.AddNew(Database, row);
        Summaries.Refresh(Database, buildId);
    }

    private void Require(string buildId)
    {
        if (Database.Scalar("SELECT 1 FROM builds WHERE id = $1", buildId) is null)
            throw new ArchiveException(ArchiveProblem.Refused, "The archive has no such build: nothing was added.");
    }

    private string NewId() => Guid.CreateVersion7(_clock.GetUtcNow()).ToString();

    private string Now() => RowsOf.Time(_clock.GetUtcNow());

    /// <summary>
    /// Now, but later than anything that was said of the build: what is said last holds, even within one millisecond and after the clock was set back.
    /// </summary>
    private DateTimeOffset Next(string buildId)
    {
        const string Latest = """
            SELECT max(at) FROM (
                SELECT max(at) AS at FROM revisions WHERE build_id = $1 UNION ALL SELECT max(made_at) FROM measurements WHERE build_id = $1
                UNION ALL SELECT max(at) FROM layouts WHERE build_id = $1 UNION ALL SELECT max(at) FROM choices WHERE build_id = $1
                UNION ALL SELECT max(at) FROM notes WHERE build_id = $1 UNION ALL SELECT max(at) FROM standings WHERE build_id = $1 OR to_build_id = $1
                UNION ALL SELECT max(at) FROM proofs WHERE build_id = $1)
            """;
        DateTimeOffset now = _clock.GetUtcNow();
        if (Database.Scalar(Latest, buildId) is not string latest)
            return now;
        DateTimeOffset next = new(RowsOf.Time(latest).AddMilliseconds(1), TimeSpan.Zero);
        return next > now ? next : now;
    }
}
