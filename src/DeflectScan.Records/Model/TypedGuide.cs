using System.Globalization;
using DeflectScan.Findings;
using DeflectScan.Geometry;

namespace DeflectScan.Records.Model;

/// <summary>
/// A guide as a person types it: "tip 1222mm, reel 22 1/2in, ring 25, frame high, two feet". Each part begins with its word; the frame's words come
/// last and may hold commas. Lengths take a unit, or are mm.
/// </summary>
/// <param name="FromTipMm">Station from the tip; null where only the reel's side was taped.</param>
/// <param name="FromReelMm">Station from the reel's front.</param>
/// <param name="RingSizeMm">Ring size as sold.</param>
/// <param name="Frame">The frame's style in the user's words.</param>
public sealed record TypedGuide(double? FromTipMm, double? FromReelMm, double? RingSizeMm, string? Frame)
{
    /// <summary>Two ways to the reel's place may differ by as much as two tapes do, mm: our own judgement.</summary>
    private const double TapesAgreeMm = 10;

    /// <summary>The guides of such texts, from the reel to the tip-top.</summary>
    public static Outcome<IReadOnlyList<GuideEntry>> List(IEnumerable<string> texts) => Parsed.Of(() => Complete([.. texts.Select(Read)]));

    /// <exception cref="InputException">Not such a text; one sentence for the user.</exception>
    internal static TypedGuide Read(string text)
    {
        TypedGuide guide = new(null, null, null, null);
        string rest = text.Trim();
        while (rest.Length > 0)
        {
            string[] word = rest.Split((char[]?)null, 2, StringSplitOptions.RemoveEmptyEntries);
            if (word is ["frame", var frame])
                return (guide with { Frame = frame.Trim() }).Placed(text);
            string[] parts = rest.Split(',', 2, StringSplitOptions.TrimEntries);
            guide = parts[0].Split((char[]?)null, 2, StringSplitOptions.RemoveEmptyEntries) switch
            {
                ["tip", var at] => guide with { FromTipMm = Length(at, text) },
                ["reel", var at] => guide with { FromReelMm = Length(at, text) },
                ["ring", var size] => guide with { RingSizeMm = Length(size, text) },
                _ => throw Wrong(text),
            };
            rest = parts.Length > 1 ? parts[1] : "";
        }

        return guide.Placed(text);
    }

    /// <summary>A list from the reel to the tip-top, with both distances of each guide as soon as one guide has both.</summary>
    /// <exception cref="InputException">A distance from the tip cannot be had, or two guides put the reel at different places.</exception>
    internal static IReadOnlyList<GuideEntry> Complete(IReadOnlyList<TypedGuide> guides)
    {
        double[] reels = [.. guides.Select(g => g.FromTipMm + g.FromReelMm).OfType<double>()];
        if (reels.Length > 0 && reels.Max() - reels.Min() > TapesAgreeMm)
        {
            throw new InputException(
                string.Create(CultureInfo.InvariantCulture, $"The guides put the reel from {reels.Min():0} to {reels.Max():0} mm from the tip: check which distances are from the tip and which from the reel."));
        }

        double? reel = reels.Length > 0 ? reels.Average() : null;
        return [.. guides.Select(g => new GuideEntry(g.Frame, g.RingSizeMm, Tip(g, reel), g.FromReelMm ?? (reel is { } r ? Round(r - g.FromTipMm!.Value) : null))).OrderByDescending(g => g.FromTipMm)];
    }

    /// <summary>The guides that a photo shows, with the frames and ring sizes of a list of as many.</summary>
    public static IReadOnlyList<GuideEntry> AsMeasured(Measurement m, IReadOnlyList<GuideEntry> known) =>
        [.. m.Guides.Select((g, i) => new GuideEntry(
            known.Count == m.Guides.Count ? known[i].Frame : null, known.Count == m.Guides.Count ? known[i].RingSizeMm : null, Round(g.StationMm), g.FromReelMm is { } reel ? Round(reel) : null))];

    private static double Tip(TypedGuide g, double? reel) => g.FromTipMm ?? (reel is { } r
        ? Round(r - g.FromReelMm!.Value)
        : throw new InputException("A guide is given from the reel alone: give one guide, as the tip-top, from the tip and from the reel, as in \"tip 0, reel 1795mm\"."));

    private static double Round(double mm) => Math.Round(mm, 2);

    private TypedGuide Placed(string text) => FromTipMm is null && FromReelMm is null ? throw Wrong(text) : this;

    private static double Length(string text, string whole) => LengthText.TryMm(text, out double mm) ? mm : throw Wrong(whole);

    private static InputException Wrong(string text) =>
        new($"'{text.ReplaceLineEndings(" ")}' is no guide: write it like \"tip 1222mm, reel 22 1/2in, ring 25, frame high\", with the distance from the tip or the reel at least.");
}
