using System.Globalization;
using System.Text;
using DeflectScan.Reporting.Cards;

namespace DeflectScan.Records.Reports;

/// <summary>A user's text as it stands on a sheet: it cannot turn the reading direction of what stands beside it, and holds nothing that is not seen.</summary>
internal static class SheetText
{
    /// <summary>Line ends stay; other control characters and marks of direction become the replacement character.</summary>
    public static string Of(string text)
    {
        StringBuilder safe = new(text.Length);
        foreach (Rune rune in text.ReplaceLineEndings("\n").EnumerateRunes())
        {
            bool joins = rune.Value is 0x200C or 0x200D; // needed within words and emoji
            bool hidden = Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator;
            if (rune.Value == '\t')
                safe.Append(' ');
            else
                safe.Append(hidden && !joins && rune.Value != '\n' ? "\uFFFD" : rune.ToString());
        }

        return safe.ToString();
    }
}
