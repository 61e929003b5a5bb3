using System.Buffers.Binary;
using System.ComponentModel;
using System.Diagnostics;
using DeflectScan.Findings;

namespace DeflectScan.Photos;

/// <summary>
/// HEIC through the <c>heif-convert</c> program of libheif, in a folder of its own and within a time limit. The converter turns the picture
/// upright itself (HEIF's own turn, ISO/IEC 23008-12, 6.5.10) and some versions leave the old EXIF orientation in the JPEG: obeying it
/// would turn twice, so what comes back counts as upright.
/// </summary>
internal static class HeicConverter
{
    private const string HowToGetAJpeg =
        "HEIC photos cannot be read here: set the phone's camera to its most compatible format, or export the photo as JPEG, or install the package libheif-examples.";

    /// <param name="heic">The whole file.</param>
    /// <param name="limits">Pixel limit (checked on the size that the file states) and time limit.</param>
    /// <param name="openJpeg">What to do with the converted picture's bytes.</param>
    public static Outcome<UprightPhoto> Open(ReadOnlyMemory<byte> heic, PhotoLimits limits, Func<byte[], Outcome<UprightPhoto>> openJpeg)
    {
        long pixels = LargestStatedSize(heic.Span);
        if (pixels > limits.MaxPixels)
            return PhotoOpener.TooLarge(PhotoOpener.PixelMessage(pixels, limits));
        try
        {
            return InFolder(Directory.CreateTempSubdirectory("deflectscan-"), heic, limits, openJpeg);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return PhotoOpener.Unreadable("The HEIC file could not be converted for want of a place for temporary files: export the photo as JPEG.");
        }
    }

    private static Outcome<UprightPhoto> InFolder(
        DirectoryInfo folder, ReadOnlyMemory<byte> heic, PhotoLimits limits, Func<byte[], Outcome<UprightPhoto>> openJpeg)
    {
        try
        {
            string source = Path.Combine(folder.FullName, "photo.heic");
            File.WriteAllBytes(source, heic.Span);
            string? problem = Convert(source, Path.Combine(folder.FullName, "photo.jpg"), limits.ConverterTimeout);
            if (problem is not null)
                return PhotoOpener.Unreadable(problem);
            FileInfo? jpeg = folder.GetFiles("*.jpg").OrderBy(f => f.Name, StringComparer.Ordinal).FirstOrDefault();
            if (jpeg is null || jpeg.Length > limits.MaxBytes)
                return PhotoOpener.Unreadable("The HEIC file could not be converted: export the photo as JPEG.");
            return openJpeg(File.ReadAllBytes(jpeg.FullName));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    /// <summary>The largest width × height of the file's "ispe" boxes (image spatial extents): the picture's own, its tiles are smaller.</summary>
    internal static long LargestStatedSize(ReadOnlySpan<byte> heic)
    {
        long largest = 0;
        ReadOnlySpan<byte> rest = heic[..Math.Min(heic.Length, 1 << 20)];
        for (int found = rest.IndexOf("ispe"u8); found >= 0; found = rest.IndexOf("ispe"u8))
        {
            rest = rest[(found + 4)..];
            if (rest.Length >= 12)
                largest = Math.Max(largest, (long)Math.Min((ulong)BinaryPrimitives.ReadUInt32BigEndian(rest[4..]) * BinaryPrimitives.ReadUInt32BigEndian(rest[8..]), long.MaxValue));
        }

        return largest;
    }

    private static string? Convert(string source, string target, TimeSpan timeout)
    {
        ProcessStartInfo start = new("heif-convert", ["-q", "97", source, target])
        {
            UseShellExecute = false,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            RedirectStandardInput = true,
        };
        try
        {
            using Process process = Process.Start(start)!;
            process.StandardInput.Close();
            process.BeginOutputReadLine();
            process.BeginErrorReadLine();
            if (process.WaitForExit(timeout))
                return process.ExitCode == 0 ? null : "The HEIC file could not be converted: export the photo as JPEG.";
            process.Kill(entireProcessTree: true);
            return $"Converting the HEIC file took more than {timeout.TotalSeconds:F0} s: export the photo as JPEG.";
        }
        catch (Win32Exception)
        {
            return HowToGetAJpeg;
        }
    }
}
