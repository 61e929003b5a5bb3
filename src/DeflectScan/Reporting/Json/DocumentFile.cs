using System.Text;
using DeflectScan.Findings;
using DeflectScan.Photos;

namespace DeflectScan.Reporting.Json;

/// <summary>Opens a document that may come from anyone: size first, then the text, then its own reader.</summary>
public static class DocumentFile
{
    private const long MostBytes = 50_000_000;

    /// <summary>What a reader makes of the file at a path, or a refusal (file-unreadable, file-too-large) with one sentence.</summary>
    /// <param name="path">Of the document.</param>
    /// <param name="read">Its reader: text in, a value or one sentence out.</param>
    public static Outcome<T> Read<T>(string path, Func<string, Outcome<T>> read)
        where T : class
    {
        try
        {
            FileInfo file = new(RealPath.Of(path));
            if (!file.Exists)
                return Unreadable(Directory.Exists(path) ? "This is a folder: give the document in it." : "There is no such file: check the document's name and folder.");
            if (file.Length > MostBytes)
                return Outcome<T>.Refused(FindingCode.FileTooLarge, $"The file has {file.Length / 1e6:F0} MB, more than a document ever has ({MostBytes / 1e6:F0} MB).");
            return read(File.ReadAllText(path, new UTF8Encoding(false, throwOnInvalidBytes: true)));
        }
        catch (DecoderFallbackException)
        {
            return Unreadable("This is no document: it is not text in UTF-8.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return Unreadable("The file cannot be read: check that it is there and that you may read it.");
        }

        static Outcome<T> Unreadable(string message) => Outcome<T>.Refused(FindingCode.FileUnreadable, message);
    }
}
