using System.Globalization;
using System.Text;

namespace DeflectScan.Web.Storing;

/// <summary>Names of uploaded files: they may come from anyone and become a file's name here.</summary>
internal static class FileNames
{
    private const int MaxChars = 80;

    /// <summary>The last part of a path, without what a file system or a screen could be fooled by; "photo" where nothing is left.</summary>
    public static string Clean(string? given)
    {
        string last = (given ?? "").Split('/', '\\')[^1];
        StringBuilder kept = new();
        foreach (Rune rune in last.EnumerateRunes())
        {
            UnicodeCategory kind = Rune.GetUnicodeCategory(rune);
            bool isUnseen = kind is UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.Surrogate or UnicodeCategory.PrivateUse
                or UnicodeCategory.OtherNotAssigned or UnicodeCategory.LineSeparator or UnicodeCategory.ParagraphSeparator;
            if (!isUnseen && rune.Value is not ('<' or '>' or ':' or '"' or '|' or '?' or '*'))
                kept.Append(rune.ToString());
        }

        string name = kept.ToString().Trim(' ', '.');
        if (name.Length > MaxChars)
            name = Shortened(name);
        return name.Length == 0 ? "photo" : name;
    }

    private static string Shortened(string name)
    {
        string ending = Path.GetExtension(name) is { Length: <= 8 } short_ ? short_ : "";
        int keep = MaxChars - ending.Length;
        if (char.IsHighSurrogate(name[keep - 1]))
            keep--;
        return name[..keep] + ending;
    }
}
