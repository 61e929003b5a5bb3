using System.Globalization;
using System.Text;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;

namespace DeflectScan.Photos;

/// <summary>
/// The few EXIF facts that measuring uses, each within a sane range or left out (CIPA DC-008, Exif 2.32). Nothing here is trusted: a
/// block that cannot be read counts as no block.
/// </summary>
internal sealed record ExifFacts(
    int Orientation,
    DateTime? TakenAt,
    string? Make,
    string? Model,
    string? Lens,
    double? FocalLengthMm,
    double? FocalLength35Mm,
    double? DigitalZoom)
{
    private const int MaxTextLength = 64;

    /// <summary>
    /// The package looks a value's kind up in Enum.GetValues(typeof(ExifDataType)), which a program compiled ahead of time has only where the array's
    /// type is named somewhere; without it every block would count as unreadable.
    /// </summary>
    private static readonly ExifDataType[] Kinds = Enum.GetValues<ExifDataType>();

    public static ExifFacts None { get; } = new(1, null, null, null, null, null, null, null);

    /// <param name="block">From the TIFF header on.</param>
    public static ExifFacts Read(ReadOnlyMemory<byte> block)
    {
        if (block.Length < 8 || block.Length > ImageHeader.MaxExifBytes || Kinds.Length == 0)
            return None;
        try
        {
            ExifProfile profile = new(block.ToArray());
            return new ExifFacts(
                (int?)Number(profile.GetValue(ExifTag.Orientation)?.Value, 1, 8) ?? 1,
                Date(profile.GetValue(ExifTag.DateTimeOriginal)?.Value ?? profile.GetValue(ExifTag.DateTime)?.Value),
                CleanText(profile.GetValue(ExifTag.Make)?.Value),
                CleanText(profile.GetValue(ExifTag.Model)?.Value),
                CleanText(profile.GetValue(ExifTag.LensModel)?.Value),
                Number(profile.GetValue(ExifTag.FocalLength)?.Value.ToDouble(), 0.5, 2000),
                Number(profile.GetValue(ExifTag.FocalLengthIn35mmFilm)?.Value, 5, 2000),
                Number(profile.GetValue(ExifTag.DigitalZoomRatio)?.Value.ToDouble(), 1.0001, 100));
        }
        catch (Exception e) when (e is not OutOfMemoryException)
        {
            return None; // A hostile block may break the reader anywhere; the pixels do not depend on it.
        }
    }

    /// <summary>Printable characters alone: controls, line breaks and direction marks are dropped, the rest is cut to a sane length.</summary>
    internal static string? CleanText(string? text)
    {
        StringBuilder clean = new();
        foreach (Rune rune in (text ?? "").EnumerateRunes())
        {
            bool printable = Rune.GetUnicodeCategory(rune) is not (UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.PrivateUse
                or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator or UnicodeCategory.OtherNotAssigned or UnicodeCategory.Surrogate);
            if (printable && rune != Rune.ReplacementChar && clean.Length < MaxTextLength)
                clean.Append(rune.ToString());
        }

        string trimmed = clean.ToString().Trim();
        return trimmed.Length == 0 ? null : trimmed;
    }

    private static DateTime? Date(string? text) =>
        DateTime.TryParseExact(text?.Trim('\0', ' '), "yyyy:MM:dd HH:mm:ss", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime d)
        && d.Year is >= 1990 and <= 2200 ? d : null;

    private static double? Number(double? value, double low, double high) => value >= low && value <= high ? value : null;
}
