using System.Text.RegularExpressions;
using DeflectScan.Geometry;

namespace DeflectScan.Web.Words;

/// <summary>The library's sentences on the page: lengths in the asked unit, and without the command line's options, which nobody can type here.</summary>
internal static partial class PageWords
{
    public static string Of(string sentence, LengthUnit unit) => UnitsInSentences.Of(Options().Replace(Asides().Replace(sentence, ""), ""), unit);

    /// <summary>What stands in brackets about options.</summary>
    [GeneratedRegex(@" \([^()]*--[a-z][^()]*\)", RegexOptions.None, 1000)]
    private static partial Regex Asides();

    /// <summary>"say so with --side".</summary>
    [GeneratedRegex(" (with|by|in) --[a-z-]+", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Options();
}
