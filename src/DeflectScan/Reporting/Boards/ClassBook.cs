using System.Globalization;
using System.Text;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Csv;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Teaching;

namespace DeflectScan.Reporting.Boards;

/// <summary>Everything that a class gives in files: the board in three forms, a sheet a student, one table, one document.</summary>
public static class ClassBook
{
    public const string Html = "board.html";
    public const string Pdf = "board.pdf";
    public const string Png = "board.png";
    public const string Csv = "class.csv";
    public const string Json = "class.json";
    public const string Sheets = "sheets";

    /// <summary>Longest name of a sheet's file, characters.</summary>
    private const int MostChars = 60;

    /// <summary>Every file by its path in the folder, its bytes made when they are asked for.</summary>
    /// <param name="report">The class.</param>
    /// <param name="pictures">A rod's pictures.</param>
    /// <param name="paper">On what is printed.</param>
    /// <param name="unit">The unit of the figures.</param>
    public static IEnumerable<(string Path, Func<byte[]> Bytes)> Files(ClassReport report, Func<ClassRod, RodPictures> pictures, SheetPaper paper, LengthUnit unit)
    {
        yield return (Html, () => Encoding.UTF8.GetBytes(BoardHtml.Write(report, unit)));
        yield return (Pdf, () => Board.Pdf(report, paper, unit));
        yield return (Png, () => Board.Png(report, unit));
        yield return (Csv, () => ClassCsv.Write(report));
        yield return (Json, () => Encoding.UTF8.GetBytes(ClassJson.Write(report)));
        foreach ((string file, ClassRod rod) in SheetFiles(report.Rods))
            yield return (Path.Combine(Sheets, file), () => FeedbackSheet.Draw(rod, report.Options.Title, pictures(rod), paper, unit));
    }

    /// <summary>The sheets' file names by what stands on the board: hidden names are hidden in them, too.</summary>
    public static IReadOnlyList<(string File, ClassRod Rod)> SheetFiles(IReadOnlyList<ClassRod> rods)
    {
        HashSet<string> taken = new(StringComparer.OrdinalIgnoreCase);
        return [.. rods.Select(rod => (Free(taken, FileName(rod.Name)) + ".pdf", rod))];
    }

    private static string Free(HashSet<string> taken, string name)
    {
        string free = name;
        for (int n = 2; !taken.Add(free); n++)
            free = string.Create(CultureInfo.InvariantCulture, $"{name}-{n}");
        return free;
    }

    /// <summary>A name from anyone as a file's: letters, digits, spaces, dots and dashes alone.</summary>
    private static string FileName(string name)
    {
        StringBuilder kept = new();
        foreach (Rune rune in name.EnumerateRunes().Take(MostChars))
            kept.Append(Rune.IsLetterOrDigit(rune) || rune.Value is ' ' or '-' or '_' or '.' || Rune.GetUnicodeCategory(rune) is UnicodeCategory.NonSpacingMark ? rune.ToString() : "_");
        string clean = kept.ToString().Trim(' ', '.');
        return clean.Length == 0 ? "student" : clean;
    }
}
