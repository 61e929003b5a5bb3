using DeflectScan.Records.Model;

namespace DeflectScan.Records.Storage;

/// <summary>One writer at a time: an open file that nobody else can open for writing. It goes with the process, however that ends.</summary>
internal sealed class WriteLock : IDisposable
{
    /// <summary>How long a second writer waits for the first, before it gives up with one sentence.</summary>
    public static readonly TimeSpan Patience = TimeSpan.FromSeconds(2);

    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(50);

    private readonly FileStream _file;

    private WriteLock(FileStream file) => _file = file;

    /// <exception cref="ArchiveException">Another one is writing, or the folder may not be written to.</exception>
    public static WriteLock Take(ArchivePaths paths)
    {
        long end = Environment.TickCount64 + (long)Patience.TotalMilliseconds;
        while (true)
        {
            try
            {
                return new WriteLock(new FileStream(paths.Lock, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None));
            }
            catch (UnauthorizedAccessException e)
            {
                throw Faults.ReadOnly(e);
            }
            catch (IOException e) when (Faults.Of(e) is not null)
            {
                throw Faults.Of(e)!;
            }
            catch (IOException e) when (Environment.TickCount64 >= end)
            {
                throw new ArchiveException(ArchiveProblem.InUse, "Another program is writing to this archive: try again when it has finished.", e);
            }
            catch (IOException)
            {
                Thread.Sleep(Pause);
            }
        }
    }

    public void Dispose() => _file.Dispose();
}
