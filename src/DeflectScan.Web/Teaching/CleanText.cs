using System.Globalization;
using System.Text;

namespace DeflectScan.Web.Teaching;

/// <summary>Words that come from a phone.</summary>
internal static class CleanText
{
    /// <summary>One line without what a screen could be fooled by, of so many characters at most; empty where nothing is left.</summary>
    public static string Line(string? given, int most)
    {
        StringBuilder kept = new();
        foreach (Rune rune in (given ?? "").EnumerateRunes())
        {
            UnicodeCategory kind = Rune.GetUnicodeCategory(rune);
            bool isUnseen = kind is UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.Surrogate or UnicodeCategory.PrivateUse
                or UnicodeCategory.OtherNotAssigned or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator;
            if (!isUnseen && kept.Length + rune.Utf16SequenceLength <= most)
                kept.Append(rune.ToString());
        }

        return string.Join(' ', kept.ToString().Split(' ', StringSplitOptions.RemoveEmptyEntries));
    }
}
