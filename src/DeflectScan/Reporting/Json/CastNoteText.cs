using System.Globalization;
using System.Text.RegularExpressions;
using DeflectScan.Layout.Start;

namespace DeflectScan.Reporting.Json;

/// <summary>A test cast as one line of text, as a build's notes in the archive keep it, and back: the same facts as in <see cref="CastNotesJson"/>.</summary>
public static partial class CastNoteText
{
    /// <summary>"line-slaps-blank; first guide 533.4 mm from the reel; the remark".</summary>
    public static string Write(KeptCast cast) => string.Join("; ", new[]
    {
        CastNotesJson.Spell(cast.Seen),
        cast.FirstGuideFromReelMm is { } mm ? string.Create(CultureInfo.InvariantCulture, $"first guide {mm:0.###} mm from the reel") : null,
        string.IsNullOrWhiteSpace(cast.Remark) ? null : cast.Remark.ReplaceLineEndings(" "),
    }.OfType<string>());

    /// <summary>The cast of such a line; null where a note is in a person's own words alone.</summary>
    /// <param name="text">The note.</param>
    /// <param name="date">When it was written.</param>
    public static KeptCast? Read(string text, DateOnly date)
    {
        if (Form().Match(text) is not { Success: true } m)
            return null;
        CastObservation[] seen = [.. Enum.GetValues<CastObservation>().Where(o => CastNotesJson.Spell(o) == m.Groups["seen"].Value)];
        double? first = m.Groups["mm"].Success ? double.Parse(m.Groups["mm"].Value, CultureInfo.InvariantCulture) : null;
        return seen is [CastObservation only] && (first is > 0 and < 5000 || (first is null && only == CastObservation.RunsWell))
            ? new KeptCast(only, first, date, m.Groups["remark"].Success ? m.Groups["remark"].Value : null)
            : null;
    }

    [GeneratedRegex(@"^(?<seen>[a-z-]+)(; first guide (?<mm>\d{1,4}(\.\d{1,3})?) mm from the reel)?(; (?<remark>.+))?$", RegexOptions.ExplicitCapture | RegexOptions.Singleline, 10_000)]
    private static partial Regex Form();
}
