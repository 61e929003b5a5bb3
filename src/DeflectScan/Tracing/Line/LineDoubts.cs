using DeflectScan.Findings;

namespace DeflectScan.Tracing.Line;

/// <summary>What a person should look at before trusting the rings: each in one sentence.</summary>
internal static class LineDoubts
{
    /// <summary>Signal-to-noise above which a window shows the line.</summary>
    private const double SeenEvidence = 2.5;

    /// <summary>Least share of a segment's windows that must show the line; the least on clear photographs of the tests is 0.6.</summary>
    private const double LeastSegmentShare = 0.5;

    /// <summary>Least share of all windows; the least on clear photographs of the tests is 0.89.</summary>
    private const double LeastShare = 0.85;

    /// <summary>A path on the other side as good as this share of the chosen one's leaves the side open.</summary>
    private const double OpenSideShare = 0.5;

    /// <summary>Coarser than this a line of 0.3 mm and rings of 6 mm leave too little in the photo, mm a px.</summary>
    private const double CoarsestMm = 1.3;

    public static void Add(List<Finding> findings, BandTrace band, GuideCensus census, List<LineWindow>[] windows, Source[] segments, int tip, SegmentEnd? end)
    {
        if (tip == 0 && end is null)
            findings.Add(Finding.Review(FindingCode.LineNotSeen, "The line that hangs from the tip-top was not seen: check the tip-top's ring point."));
        List<LineWindow>[] withReel = [.. windows.Skip(tip)];
        List<LineWindow> inner = [.. withReel.SkipLast(1).SelectMany(w => w)];
        if (segments.Contains(Source.Inferred) || withReel.Any(w => w.Count > 0 && Share(w) < LeastSegmentShare) || Share(inner) < LeastShare)
        {
            findings.Add(Finding.Review(
                FindingCode.LineNotSeen, "Parts of the line were hardly seen and are taken as straight: check the rings beside them, or use a line that stands out."));
        }

        if (band.OtherSideShare > OpenSideShare)
            findings.Add(Finding.Review(FindingCode.GuidesUncertain, "It is uncertain on which side of the blank the guides stand: say so with --side and check the rings."));
        if (!census.KnowsItsGuides)
            findings.Add(Finding.Review(FindingCode.GuidesUncertain, "The guides could not be told apart from their surroundings: count the rings on the overlay."));
        foreach (double doubt in census.Doubts.Distinct().Order())
            findings.Add(Finding.Review(FindingCode.GuidesUncertain, $"It is uncertain whether a guide stands {doubt:0} mm from the tip: look there and mark the rings if need be."));
        if (band.Strip.StepMm > CoarsestMm)
            findings.Add(Finding.Review(FindingCode.LowResolution, "The line and the rings are too small in the photo to be sure of: take it from nearer or with more pixels."));
    }

    /// <summary>How many of a segment's windows show the line.</summary>
    public static int Shown(List<LineWindow> windows) => windows.Count(w => w.Evidence > SeenEvidence);

    /// <summary>Median evidence of the windows that show the line; 0 where none does.</summary>
    public static double UsualEvidence(List<LineWindow> windows)
    {
        double[] shown = [.. windows.Select(w => w.Evidence).Where(e => e > SeenEvidence).Order()];
        return shown.Length == 0 ? 0 : shown[shown.Length / 2];
    }

    /// <summary>Share of the windows that show the line, of those clear of the blank; of all where none is.</summary>
    private static double Share(List<LineWindow> windows)
    {
        List<LineWindow> clear = [.. windows.Where(w => w.NearShare < 0.5)];
        List<LineWindow> counted = clear.Count > 0 ? clear : windows;
        return counted.Count == 0 ? 0 : Shown(counted) / (double)counted.Count;
    }
}
