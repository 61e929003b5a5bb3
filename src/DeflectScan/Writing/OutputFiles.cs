using DeflectScan.Photos;

namespace DeflectScan.Writing;

/// <summary>
/// The one rule for everything that is written for a person: a file that exists is replaced only by one of the same kind
/// (<see cref="FileKind"/>) and only when it was no input of this run, or by force; its name must end as its format does.
/// Files come whole or not at all: a temporary file is written, flushed and renamed.
/// </summary>
/// <param name="inputs">Paths of what this run reads.</param>
/// <param name="force">Replace whatever is there.</param>
public sealed class OutputFiles(IEnumerable<string> inputs, bool force)
{
    private const long MostComparedBytes = 200_000_000;
    private readonly string[] _inputs = [.. inputs.Where(File.Exists).Select(RealPath.Of).Distinct(StringComparer.Ordinal)];

    /// <summary>Sees, before any work is done, that a file of this format may be written there as far as can be known.</summary>
    /// <param name="path">Where it is to be written.</param>
    /// <param name="formats">What it is to hold; several where the ending decides.</param>
    /// <param name="updates">The file is read and written on purpose: a document that grows.</param>
    /// <exception cref="OutputRefusedException">It may not.</exception>
    public void Expect(string path, IReadOnlyList<OutputFormat> formats, bool updates = false)
    {
        if (formats.FirstOrDefault(f => OutputEndings.Fit(path, f), (OutputFormat)(-1)) is var format && (int)format < 0)
            throw Ending(path, formats);
        if (updates || Existing(path) is not { } there)
            return;
        RefuseInput(path, there);
        FileKind kind = FileKind.Of(there);
        if (!force && (kind.IsForeign || kind.Format != format))
            throw OfAnotherKind(path);
    }

    /// <summary>Writes a file whole; nothing is done where the very same bytes lie there.</summary>
    /// <param name="path">Where; a link there is followed.</param>
    /// <param name="content">The whole file.</param>
    /// <param name="updates">The file is read and written on purpose: a document that grows.</param>
    /// <exception cref="OutputRefusedException">It may not be written, or cannot be.</exception>
    public void Write(string path, byte[] content, bool updates = false)
    {
        byte[] marked = OwnMark.Put(content);
        FileKind kind = FileKind.Of(marked);
        if (!OutputEndings.Fit(path, kind.Format))
            throw Ending(path, [kind.Format]);
        if (Existing(path) is { } there)
        {
            if (there.AsSpan().SequenceEqual(marked))
                return;
            if (!updates)
                RefuseInput(path, there);
            if (!force && !kind.MayReplace(FileKind.Of(there)))
                throw OfAnotherKind(path);
        }

        WholeFile.Write(RealPath.Of(path), marked);
    }

    /// <summary>Takes away a file of ours that this run would have replaced but has nothing to put in its place.</summary>
    /// <exception cref="OutputRefusedException">What lies there is not ours.</exception>
    public void Remove(string path, OutputFormat format)
    {
        if (!File.Exists(path))
            return;
        Expect(path, [format]);
        File.Delete(path);
    }

    /// <summary>What lies at a path; null where nothing does, or an empty file, which has nothing to lose.</summary>
    private static byte[]? Existing(string path)
    {
        if (Directory.Exists(path))
            throw new OutputRefusedException($"{Path.GetFileName(Path.TrimEndingDirectorySeparator(path))} is a folder: give a file's name.");
        try
        {
            FileInfo file = new(RealPath.Of(path));
            if (!file.Exists || file.Length == 0)
                return null;
            return file.Length <= MostComparedBytes ? File.ReadAllBytes(file.FullName) : [0];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new OutputRefusedException($"{Path.GetFileName(path)} cannot be written: give a place that you may write to.");
        }
    }

    /// <summary>By its real path, and by its bytes, so that hard links and mounts do not matter.</summary>
    private void RefuseInput(string path, byte[] there)
    {
        if (force || _inputs.Length == 0)
            return;
        string real = RealPath.Of(path);
        if (_inputs.Any(i => i == real || (new FileInfo(i).Length == there.Length && File.ReadAllBytes(i).AsSpan().SequenceEqual(there))))
            throw new OutputRefusedException($"{Path.GetFileName(path)} is read in this run and would be written over: give another name, or say that it may be replaced.");
    }

    private static OutputRefusedException OfAnotherKind(string path) =>
        new($"{Path.GetFileName(path)} is there already and holds something else, which would be lost: give another name, or say that it may be replaced.");

    private static OutputRefusedException Ending(string path, IReadOnlyList<OutputFormat> formats)
    {
        string[] endings = [.. formats.Select(f => OutputEndings.Of(f)[0])];
        string all = endings.Length == 1 ? endings[0] : $"{string.Join(", ", endings[..^1])} or {endings[^1]}";
        return new OutputRefusedException($"{Path.GetFileName(path)} does not fit what is written there: the name must end in {all}.");
    }
}
