using System.Security.Cryptography;
using DeflectScan.Web.Storing;

namespace DeflectScan.Web.Measuring;

/// <summary>
/// A folder of this machine whose new photos are taken in as if they were dropped on the page: what is there at the start, then what comes. Each is taken once,
/// known by its content, and only when nobody writes to it any more. The folder itself is never written to.
/// </summary>
internal sealed class WatchedFolder : IDisposable
{
    /// <summary>How often it is looked at while something in it is being written, and how often in any case: not every file system tells of changes (chosen).</summary>
    private static readonly TimeSpan Soon = TimeSpan.FromMilliseconds(250), Late = TimeSpan.FromSeconds(30);

    private readonly string _folder;
    private readonly Bench _bench;
    private readonly ServeOptions _options;
    private readonly Dictionary<string, WatchedFile> _files = new(StringComparer.Ordinal);
    private readonly SemaphoreSlim _moved = new(1);
    private readonly CancellationTokenSource _ends = new();
    private readonly Task _work;
    private FileSystemWatcher? _watcher;

    public WatchedFolder(string folder, Bench bench, ServeOptions options)
    {
        (_folder, _bench, _options) = (Path.GetFullPath(folder), bench, options);
        _work = Task.Run(Work);
    }

    /// <summary>What the page is told of it.</summary>
    public WatchView Now { get; private set; } = WatchView.Nothing;

    /// <summary>Why a folder cannot be watched, as one sentence for the user; null where it can.</summary>
    public static string? FirstProblem(ServeOptions options)
    {
        if (options.WatchFolder is not { } folder)
            return null;
        if (!Directory.Exists(folder))
            return $"There is no folder {folder} to watch: make it first, or watch another folder.";
        string watched = Path.GetFullPath(folder + Path.DirectorySeparatorChar), archive = Path.GetFullPath(options.ArchiveFolder + Path.DirectorySeparatorChar);
        return watched.StartsWith(archive, StringComparison.Ordinal) ? "The folder to watch lies in the archive, which the page writes to itself: watch another folder." : null;
    }

    public void Dispose()
    {
        _ends.Cancel();
        _work.GetAwaiter().GetResult();
        _watcher?.Dispose();
        _moved.Dispose();
        _ends.Dispose();
    }

    private async Task Work()
    {
        try
        {
            while (true)
            {
                bool isBusy = await Look();
                await _moved.WaitAsync(isBusy ? Soon : Late, _ends.Token);
            }
        }
        catch (OperationCanceledException)
        {
            // The server ends; what was not taken in is found again at the next start.
        }
    }

    /// <summary>Looks through the folder once; gives whether something in it is still to come.</summary>
    private async Task<bool> Look()
    {
        string? problem = null;
        try
        {
            _watcher ??= Listen();
            FileInfo[] there = [.. new DirectoryInfo(_folder).EnumerateFiles().Where(f => WatchedFile.IsPicture(f.Name)).OrderBy(f => f.LastWriteTimeUtc).ThenBy(f => f.Name, StringComparer.Ordinal)];
            foreach (string gone in _files.Keys.Except(there.Select(f => f.Name), StringComparer.Ordinal).ToArray())
                _files.Remove(gone);
            foreach (FileInfo file in there)
                await LookAt(file);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            problem = "The folder cannot be read: check that it is there and that its rights allow it.";
            _watcher?.Dispose();
            _watcher = null;
        }

        Tell(problem);
        return problem is null && _files.Values.Any(f => !f.IsDone);
    }

    private async Task LookAt(FileInfo file)
    {
        WatchedFile now = WatchedFile.Of(file, _files.GetValueOrDefault(file.Name), TimeProvider.System.GetTimestamp(), _options.MaxUploadBytes);
        _files[file.Name] = now;
        if (now.IsDone || !now.HasRested(_options.WatchRest) || _bench.Waiting >= _options.MaxWaiting)
            return;
        try
        {
            if (!now.LooksWhole(file) && !now.HasRested(_options.WatchRest * WatchedFile.CutRests))
                return;
            await Take(file);
            _files[file.Name] = now with { IsDone = true, Reason = null };
        }
        catch (UploadTooLargeException e)
        {
            _files[file.Name] = now with { IsDone = true, Reason = e.Message };
        }
        catch (UnauthorizedAccessException)
        {
            _files[file.Name] = now.Again("It may not be read: check the file's rights.");
        }
        catch (IOException e)
        {
            _files[file.Name] = now.Again($"It cannot be taken in yet: {e.Message}");
        }
    }

    /// <summary>Takes a photo in that the bench has not had yet. One that a person set aside stays aside.</summary>
    private async Task Take(FileInfo file)
    {
        await using FileStream photo = file.OpenRead();
        string sha256 = Convert.ToHexStringLower(await SHA256.HashDataAsync(photo, _ends.Token));
        if (_bench.Find(sha256[..16])?.Stored.Sha256 == sha256)
            return;
        photo.Position = 0;
        await _bench.Take(photo, FileNames.Clean(file.Name), _ends.Token);
    }

    private FileSystemWatcher Listen()
    {
        FileSystemWatcher watcher = new(_folder) { NotifyFilter = NotifyFilters.FileName | NotifyFilters.LastWrite | NotifyFilters.Size };
        watcher.Created += (_, _) => LookSoon();
        watcher.Changed += (_, _) => LookSoon();
        watcher.Renamed += (_, _) => LookSoon();
        watcher.Deleted += (_, _) => LookSoon();
        watcher.Error += (_, _) => LookSoon();
        watcher.EnableRaisingEvents = true;
        return watcher;
    }

    private void LookSoon()
    {
        try
        {
            if (_moved.CurrentCount == 0)
                _moved.Release();
        }
        catch (ObjectDisposedException)
        {
            // The server has ended.
        }
    }

    private void Tell(string? problem)
    {
        WatchView view = new(_folder, problem, [.. _files.Where(f => f.Value.Reason is not null).Select(f => new WatchedRefusal(FileNames.Clean(f.Key), f.Value.Reason!))]);
        if (view.SaysAsMuchAs(Now))
            return;
        Now = view;
        _bench.Changes.Say(Changes.Watch);
    }
}
