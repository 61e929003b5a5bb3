using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Cards;
using DeflectScan.Reporting.Drawing;

namespace DeflectScan.Reporting;

/// <summary>
/// The words above the picture, in few lines. The largest figures and the scale give way to what is in doubt, and of that what has a mark on the picture comes
/// first and keeps its sentence: the list beside the picture has all.
/// </summary>
internal static class OverlayHead
{
    /// <summary>Lines above the picture: it is to be seen, not read.</summary>
    public const int MostLines = 6;

    private const float Size = 26;

    public static InfoStrip Of(Measurement m, OverlayOptions o)
    {
        InfoStrip strip = new();
        strip.Add(OverlayWords.Headline(m, o.Unit), 32, Palette.Paper, bold: true, StatusIcon.For(m.Status), mostLines: 2);
        StatusIcon icon = m.Status == MeasurementStatus.Refused ? StatusIcon.Refused : StatusIcon.Review;
        (string? Mark, string Words, int Lines)[] reasons =
        [
            .. from f in OverlayWords.Reasons(m)
               let words = UnitsInSentences.Of(OverlayWords.Said(f), o.Unit)
               select (f.Mark, words, InfoStrip.LinesOf(words, Size, icon: icon)),
        ];
        int needed = reasons.Sum(r => r.Lines);
        if (OverlayWords.Largest(m, o.Unit) is { } largest && strip.Lines + InfoStrip.LinesOf(largest, Size) + needed <= MostLines)
            strip.Add(largest, Size, Palette.Paper);
        string? scale = OverlayWords.Scale(m);
        bool showsScale = scale is not null && strip.Lines + needed < MostLines;
        Add(strip, reasons, icon, MostLines - strip.Lines - (showsScale ? 1 : 0));
        if (showsScale)
            strip.Add(scale!, 23, Palette.Quiet);
        return strip;
    }

    /// <summary>Those with a mark whole, the others a line at least, as far as they go; of those that have no room the marks at least are named.</summary>
    private static void Add(InfoStrip strip, (string? Mark, string Words, int Lines)[] reasons, StatusIcon icon, int room)
    {
        for (int i = 0; i < reasons.Length; i++)
        {
            (string? Mark, string Words, int Lines)[] after = reasons[(i + 1)..];
            if (room == 1 && after.Length > 0)
            {
                strip.Add($"{Rest([.. reasons.Skip(i).Select(r => r.Mark)])}: the list beside this picture has all", Size, Palette.Line, icon: icon, mostLines: 1);
                return;
            }

            int marked = after.Count(r => r.Mark is not null);
            int kept = reasons[i].Mark is null ? after.Length : marked + (marked < after.Length ? 1 : 0);
            int lines = Math.Min(reasons[i].Lines, Math.Max(1, room - kept));
            strip.Add(reasons[i].Words, Size, Palette.Line, icon: icon, mostLines: lines);
            room -= lines;
        }
    }

    private static string Rest(string?[] marks)
    {
        string[] named = [.. marks.OfType<string>()];
        int more = marks.Length - named.Length;
        return named.Length == 0 ? $"and {more} more" : more == 0 ? string.Join(", ", named) : $"{string.Join(", ", named)} and {more} more";
    }
}
