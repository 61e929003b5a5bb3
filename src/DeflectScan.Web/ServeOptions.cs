using DeflectScan.Measuring;

namespace DeflectScan.Web;

/// <summary>How the page is served.</summary>
/// <param name="ArchiveFolder">The archive of <c>records</c>; made where there is none. Photos of the bench lie in its folder <c>bench</c>.</param>
/// <param name="Port">TCP port; 0 takes a free one.</param>
/// <param name="Measuring">What every photo is measured with; the marks are the page's own.</param>
public sealed record ServeOptions(string ArchiveFolder, int Port, MeasureOptions Measuring)
{
    /// <summary>The port where none is asked for (chosen; unassigned by IANA as far as remembered).</summary>
    public const int UsualPort = 8417;

    /// <summary>Phones of the machine's networks may come in with a code that is good once; see <see cref="Guarding.Invitation"/>. Default false: this machine alone.</summary>
    public bool IsForPhones { get; init; }

    /// <summary>Largest upload in bytes: as large as the library reads (<see cref="Photos.PhotoLimits"/>).</summary>
    public long MaxUploadBytes { get; init; } = Photos.PhotoLimits.Default.MaxBytes;

    /// <summary>Photos that may be kept waiting at once; a further upload is told to wait (chosen).</summary>
    public int MaxWaiting { get; init; } = 200;

    /// <summary>A folder of this machine whose new photos are taken in by themselves; null: none.</summary>
    public string? WatchFolder { get; init; }

    /// <summary>A file of the watched folder is taken in when it has stayed the same for so long (chosen).</summary>
    public TimeSpan WatchRest { get; init; } = TimeSpan.FromSeconds(2);

    /// <summary>A folder whose files stand in for the page's own ones, read anew each time: for work on the page. Null: those in the program.</summary>
    public string? PageFolder { get; init; }

    /// <summary>Measures a photo. Default: the library's pipeline.</summary>
    public Func<string, MeasureOptions, IProgress<string>, CancellationToken, MeasureRun> Measure { get; init; } =
        static (path, options, progress, cancel) => MeasurePipeline.Run(path, options, progress, cancel);
}
