namespace DeflectScan.Measuring;

/// <summary>
/// Many photos, each for itself: several at once as far as processors and memory go, a bad one stopping none of the others, what comes of them told in the
/// order in which they were given.
/// </summary>
public static class ManyPhotos
{
    /// <summary>Works on every photo.</summary>
    /// <param name="paths">The photos' files.</param>
    /// <param name="options">How many at once.</param>
    /// <param name="work">What is done with one; called from several threads at once. Must not hold on to the photo's pixels when it returns.</param>
    /// <param name="fault">What stands for a photo at which something unexpected went wrong.</param>
    /// <param name="progress">Told how many are done, from none on.</param>
    /// <param name="inOrder">Told each photo's outcome in the order of the paths, as soon as all before it are there; never two at once.</param>
    /// <param name="cancel">Asked before each photo.</param>
    public static IReadOnlyList<T> Run<T>(
        IReadOnlyList<string> paths,
        ManyOptions options,
        Func<int, CancellationToken, T> work,
        Func<int, Exception, T> fault,
        Action<int>? progress = null,
        Action<int, T>? inOrder = null,
        CancellationToken cancel = default)
        where T : class
    {
        PhotosInHand<T> all = new(paths, options.MemoryBytes, work, fault, progress, inOrder);
        return all.Run(Math.Clamp(options.AtOnce, 1, Math.Max(1, paths.Count)), cancel);
    }
}

/// <summary>How many photos are worked on at once.</summary>
public sealed record ManyOptions
{
    /// <summary>Photos at once at most. Default: one a processor.</summary>
    public int AtOnce { get; init; } = Environment.ProcessorCount;

    /// <summary>Bytes that the photos in hand may take together; a single one larger than this is worked on alone. Default 800 MB, so that the process stays below 1.2 GB.</summary>
    public long MemoryBytes { get; init; } = 800_000_000;
}
