using System.Security.Cryptography;
using DeflectScan.Findings;
using OpenCvSharp;

namespace DeflectScan.Photos;

/// <summary>
/// Opens a photo that may come from anyone: the kind by signature, limits and completeness from the file's structure, and only then the
/// pixels, turned upright once. JPEG, PNG and WebP, and HEIC where a converter is installed.
/// </summary>
public static class PhotoOpener
{
    /// <summary>Opens the photo at <paramref name="path"/>.</summary>
    /// <returns>The photo, which the caller disposes, or a refusal: file-unreadable or file-too-large with one sentence.</returns>
    public static Outcome<UprightPhoto> Open(string path, PhotoLimits limits)
    {
        try
        {
            // A link's own length is that of the path in it.
            FileInfo file = new(RealPath.Of(path));
            if (!file.Exists)
                return Unreadable(Directory.Exists(path) ? "This is a folder: give a photo file." : "There is no such file: check the photo's name and folder.");
            if (file.Length > limits.MaxBytes)
                return TooLarge($"The file has {file.Length / 1e6:F0} MB, more than {limits.MaxBytes / 1e6:F0} MB: save the photo as JPEG.");
            if (file.Length == 0)
                return Unreadable("The file is empty: copy the photo from the phone or camera once more.");
            byte[] bytes = new byte[file.Length];
            using (FileStream stream = new(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 0))
                stream.ReadExactly(bytes);
            return Open(bytes, Path.GetFileName(path), limits);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return Unreadable("The file cannot be read: check that it is there and that you may read it.");
        }
    }

    /// <summary>Opens a photo that is in memory already.</summary>
    /// <param name="bytes">The whole file.</param>
    /// <param name="fileName">Name without folder, for the record.</param>
    /// <param name="limits">See <see cref="PhotoLimits"/>.</param>
    public static Outcome<UprightPhoto> Open(ReadOnlyMemory<byte> bytes, string fileName, PhotoLimits limits)
    {
        if (bytes.Length > limits.MaxBytes)
            return TooLarge($"The file has {bytes.Length / 1e6:F0} MB, more than {limits.MaxBytes / 1e6:F0} MB: save the photo as JPEG.");
        (PhotoFormat format, string name) = Signature.Of(bytes.Span);
        return format switch
        {
            PhotoFormat.Other => Unreadable($"This is {name}: give a photo as JPEG, PNG or WebP."),
            PhotoFormat.Heif => HeicConverter.Open(bytes, limits, jpeg => Decode(jpeg, PhotoFormat.Jpeg, bytes, fileName, limits, isUpright: true)),
            _ => Decode(bytes, format, bytes, fileName, limits, isUpright: false),
        };
    }

    /// <summary>How many pixels a photo's file says that it has, without decoding them: 0 where it is none, null where its format does not say.</summary>
    public static long? PixelsOf(string path)
    {
        try
        {
            FileInfo file = new(RealPath.Of(path));
            if (!file.Exists || file.Length > PhotoLimits.Default.MaxBytes)
                return 0;
            byte[] bytes = File.ReadAllBytes(file.FullName);
            return Signature.Of(bytes).Format switch
            {
                PhotoFormat.Jpeg => JpegStructure.Read(bytes).Pixels,
                PhotoFormat.Png => PngStructure.Read(bytes).Pixels,
                PhotoFormat.WebP => WebpStructure.Read(bytes).Pixels,
                PhotoFormat.Heif => null,
                _ => 0,
            };
        }
        catch (Exception e) when (e is BrokenFileException or IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return 0;
        }
    }

    /// <param name="bytes">The picture to decode.</param>
    /// <param name="format">Its kind.</param>
    /// <param name="original">The file as given, for its hash.</param>
    /// <param name="fileName">For the record.</param>
    /// <param name="limits">See <see cref="PhotoLimits"/>.</param>
    /// <param name="isUpright">True where the pixels have been turned already, whatever EXIF says.</param>
    private static Outcome<UprightPhoto> Decode(
        ReadOnlyMemory<byte> bytes, PhotoFormat format, ReadOnlyMemory<byte> original, string fileName, PhotoLimits limits, bool isUpright)
    {
        try
        {
            ImageHeader header = format switch
            {
                PhotoFormat.Jpeg => JpegStructure.Read(bytes),
                PhotoFormat.Png => PngStructure.Read(bytes),
                _ => WebpStructure.Read(bytes),
            };
            if (header.Pixels > limits.MaxPixels)
                return TooLarge(PixelMessage(header.Pixels, limits));
            if (!header.HoldsEnough)
                throw BrokenFileException.Cut(Name(format));
            header.CheckCoding?.Invoke(bytes.Span);
            // What does not need the pixels is done beside their decoding.
            Task<ExifFacts> facts = Task.Run(() => ExifFacts.Read(header.Exif));
            Task<string> hash = Task.Run(() => Convert.ToHexStringLower(SHA256.HashData(original.Span)));
            Mat stored = Pixels(bytes, header, format);
            ExifFacts exif = isUpright ? facts.Result with { Orientation = 1 } : facts.Result;
            Mat upright = Orientation.TurnUpright(stored, exif.Orientation);
            return Outcome<UprightPhoto>.Of(new UprightPhoto(Info(fileName, hash.Result, upright, exif), upright));
        }
        catch (BrokenFileException e)
        {
            return Unreadable(e.Message);
        }
        catch (Exception e) when (e is OpenCVException or OutOfMemoryException)
        {
            return Unreadable($"The {Name(format)} file cannot be decoded: copy it from the phone or camera once more.");
        }
    }

    internal static string PixelMessage(long pixels, PhotoLimits limits) =>
        $"The photo has {pixels / 1e6:F0} megapixels, more than {limits.MaxPixels / 1e6:F0}: take it at a lower resolution or scale it down.";

    internal static Outcome<UprightPhoto> Unreadable(string message) => Outcome<UprightPhoto>.Refused(FindingCode.FileUnreadable, message);

    internal static Outcome<UprightPhoto> TooLarge(string message) => Outcome<UprightPhoto>.Refused(FindingCode.FileTooLarge, message);

    private static Mat Pixels(ReadOnlyMemory<byte> bytes, ImageHeader header, PhotoFormat format)
    {
        Mat stored = Cv2.ImDecode(bytes.Span, ImreadModes.Color | ImreadModes.IgnoreOrientation);
        if (!stored.Empty() && stored.Width == header.WidthPx && stored.Height == header.HeightPx && stored.Type() == MatType.CV_8UC3)
            return stored;
        stored.Dispose();
        throw BrokenFileException.Damaged(Name(format));
    }

    private static string Name(PhotoFormat format) => format switch { PhotoFormat.Jpeg => "JPEG", PhotoFormat.Png => "PNG", _ => "WebP" };

    private static PhotoInfo Info(string fileName, string sha256, Mat upright, ExifFacts exif) => new(
        fileName, sha256, upright.Width, upright.Height, exif.Orientation, exif.TakenAt, exif.Make, exif.Model, exif.Lens,
        exif.FocalLengthMm, exif.FocalLength35Mm, exif.DigitalZoom);
}
