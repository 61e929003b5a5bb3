using DeflectScan.Geometry;

namespace DeflectScan.Web.Words;

/// <summary>The library's sentences on the page: lengths in the asked unit, and behind what a person is to do the page's own way to do it.</summary>
internal static class PageWords
{
    /// <summary>What the library asks for, and where that is done.</summary>
    internal static readonly (string Asked, string Here)[] All =
    [
        ("a mark there", "drag its ring on the photo"),
        ("the right number", "take a guide off or add one on the photo"),
        ("keep the photo with it first", "\"Keep with a build\" on the photo's page"),
        ("served to phones", "deflectscan serve --lan"),
        ("a repair", "deflectscan records verify --repair"),
        ("a check of the archive", "deflectscan records verify"),
    ];

    public static string Of(string sentence, LengthUnit unit) =>
        UnitsInSentences.Of(All.Aggregate(sentence, (said, word) => said.Replace(word.Asked, $"{word.Asked} ({word.Here})", StringComparison.Ordinal)), unit);
}
