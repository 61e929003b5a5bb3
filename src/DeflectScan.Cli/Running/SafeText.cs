using System.Globalization;
using System.Text;

namespace DeflectScan.Cli.Running;

/// <summary>Text from a file, a name or EXIF, made safe to show: nothing in it can steer a terminal or turn the reading direction.</summary>
internal static class SafeText
{
    public static string Of(string text)
    {
        StringBuilder safe = new(text.Length);
        foreach (Rune rune in text.EnumerateRunes())
        {
            safe.Append(Rune.GetUnicodeCategory(rune) is UnicodeCategory.Control or UnicodeCategory.Format or UnicodeCategory.LineSeparator
                or UnicodeCategory.ParagraphSeparator or UnicodeCategory.PrivateUse ? "\uFFFD" : rune.ToString());
        }

        return safe.ToString();
    }
}
