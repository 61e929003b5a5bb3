using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using DeflectScan.Records.Model;
using Microsoft.Data.Sqlite;

namespace DeflectScan.Records.Storage;

/// <summary>One connection to an archive's database, with the few ways in which it is asked. Not for several threads at once.</summary>
internal sealed class Database : IDisposable
{
    /// <summary>Marks the file as an archive of this program: "DSrc" as a number.</summary>
    public const int ApplicationId = 0x44537263;

    private Database(SqliteConnection connection) => Connection = connection;

    public SqliteConnection Connection { get; }

    /// <summary>The transaction that is under way, if any.</summary>
    public SqliteTransaction? Transaction { get; private set; }

    public int SchemaVersion => (int)(long)Scalar("PRAGMA user_version")!;

    /// <summary>A connection that writes, or makes a new database.</summary>
    public static Database ForWriting(string path, bool create = false)
    {
        Database database = new(Open(path, create ? SqliteOpenMode.ReadWriteCreate : SqliteOpenMode.ReadWrite, immutable: false));
        try
        {
            database.Execute("PRAGMA foreign_keys = ON");
            database.Execute("PRAGMA synchronous = FULL");
            database.Execute("PRAGMA wal_autocheckpoint = 0");
            return database;
        }
        catch
        {
            database.Dispose();
            throw;
        }
    }

    /// <summary>
    /// A connection that reads. Where nothing can be written beside it, a closed archive's file is taken as one that nobody changes; one that was
    /// not closed cannot be read there, as its log would be left out.
    /// </summary>
    public static Database ForReading(string path)
    {
        try
        {
            return Reading(path, SqliteOpenMode.ReadWrite, immutable: false);
        }
        catch (SqliteException e) when (Faults.Of(e) is { Problem: ArchiveProblem.ReadOnly or ArchiveProblem.DiskFull })
        {
            if (new FileInfo(path + "-wal") is { Exists: true, Length: > 0 })
            {
                throw new ArchiveException(
                    ArchiveProblem.ReadOnly, "The archive was not closed, and closing it needs a folder that can be written to: give it room and rights, or copy it to another place and read it there.", e);
            }

            return Reading(path, SqliteOpenMode.ReadOnly, immutable: true);
        }
    }

    /// <summary>Reads exactly the file's bytes, whatever lies beside it, and leaves nothing there.</summary>
    public static Database AsItLies(string path) => Reading(path, SqliteOpenMode.ReadOnly, immutable: true);

    public SqliteTransaction Begin()
    {
        Transaction = Connection.BeginTransaction(deferred: false);
        return Transaction;
    }

    public void EndTransaction()
    {
        Transaction?.Dispose();
        Transaction = null;
    }

    [SuppressMessage("Security", "CA2100", Justification = "The text is the program's own; values go as parameters.")]
    public SqliteCommand Command(string sql, params ReadOnlySpan<object?> values)
    {
        SqliteCommand command = Connection.CreateCommand();
        command.CommandText = sql;
        command.Transaction = Transaction;
        for (int i = 0; i < values.Length; i++)
            command.Parameters.AddWithValue("$" + (i + 1).ToString(CultureInfo.InvariantCulture), values[i] ?? DBNull.Value);
        return command;
    }

    public int Execute(string sql, params ReadOnlySpan<object?> values)
    {
        using SqliteCommand command = Command(sql, values);
        return command.ExecuteNonQuery();
    }

    public object? Scalar(string sql, params ReadOnlySpan<object?> values)
    {
        using SqliteCommand command = Command(sql, values);
        return command.ExecuteScalar() is { } value and not DBNull ? value : null;
    }

    /// <summary>Everything that a query gives, read at once.</summary>
    public List<T> List<T>(string sql, Func<SqliteDataReader, T> read, params ReadOnlySpan<object?> values)
    {
        using SqliteCommand command = Command(sql, values);
        using SqliteDataReader reader = command.ExecuteReader();
        List<T> list = [];
        while (reader.Read())
            list.Add(read(reader));
        return list;
    }

    /// <summary>Moves the whole write-ahead log into the database. False where somebody else still reads the old state.</summary>
    public bool Checkpoint() => List("PRAGMA wal_checkpoint(TRUNCATE)", r => r.GetInt64(0)) is [0];

    public void Dispose()
    {
        EndTransaction();
        Connection.Dispose();
    }

    private static Database Reading(string path, SqliteOpenMode mode, bool immutable)
    {
        Database database = new(Open(path, mode, immutable));
        try
        {
            database.Execute("PRAGMA query_only = ON");
            database.Scalar("SELECT count(*) FROM sqlite_schema");
            return database;
        }
        catch
        {
            database.Dispose();
            throw;
        }
    }

    private static SqliteConnection Open(string path, SqliteOpenMode mode, bool immutable)
    {
        SqliteConnectionStringBuilder text = new()
        {
            DataSource = immutable ? $"file:{string.Join('/', path.Split('/').Select(Uri.EscapeDataString))}?immutable=1" : path,
            Mode = mode,
            Pooling = false,
            DefaultTimeout = (int)WriteLock.Patience.TotalSeconds,
        };
        SqliteConnection connection = new(text.ToString());
        try
        {
            connection.Open();
            return connection;
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }
}
