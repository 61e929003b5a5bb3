namespace DeflectScan.Writing;

/// <summary>Writes a file whole or not at all.</summary>
internal static class WholeFile
{
    /// <summary>What lay at the path stays until the new file is on the disk.</summary>
    /// <exception cref="OutputRefusedException">It cannot be written.</exception>
    public static void Write(string full, ReadOnlySpan<byte> bytes)
    {
        string temporary = Path.Combine(Path.GetDirectoryName(full) ?? full, $".{Path.GetRandomFileName()}.part");
        bool made = false;
        try
        {
            using (FileStream stream = new(temporary, FileMode.CreateNew, FileAccess.Write))
            {
                made = true;
                stream.Write(bytes);
                stream.Flush(flushToDisk: true);
            }

            File.Move(temporary, full, overwrite: true);
            made = false;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new OutputRefusedException($"{Path.GetFileName(full)} cannot be written: give a place that you may write to.");
        }
        finally
        {
            if (made)
                File.Delete(temporary);
        }
    }
}
