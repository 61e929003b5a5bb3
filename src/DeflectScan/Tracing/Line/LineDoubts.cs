using DeflectScan.Findings;
using DeflectScan.Numerics;

namespace DeflectScan.Tracing.Line;

/// <summary>What a person should look at before trusting the line: each cause in one sentence.</summary>
internal static class LineDoubts
{
    /// <summary>Signal-to-noise above which a window shows the line.</summary>
    public const double SeenEvidence = 2.5;

    /// <summary>Least share of a segment's windows that must show the line, where the others show it.</summary>
    private const double LeastSegmentShare = 0.5;

    /// <summary>Share of all windows above which the line is plain, so that a segment without it says that something is missing there.</summary>
    private const double PlainShare = 0.7;

    /// <summary>Of scenes drawn as those that the networks learnt from, 2 in 100 of 300 are coarser, mm a px; till there how sure they are says enough.</summary>
    private const double CoarsestMm = 1.6;

    /// <summary>A bar's edge may hang where the line should: without the ring it says nothing.</summary>
    public static Finding NoTip { get; } = Finding.Review(
        FindingCode.LineNotSeen, "The tip-top's ring was not seen: clear what stands before it, or check the tip-top's ring point on the overlay, and mark it if it is off.");

    public static void Add(List<Finding> findings, IReadOnlyList<List<LineWindow>> windows, Source[] segments, IReadOnlyList<double> contradicted, bool isTipKnown, double stepMm, bool ringsAreSure)
    {
        if (!isTipKnown)
            findings.Add(NoTip);
        List<LineWindow> inner = [.. windows.SkipLast(1).SelectMany(w => w)];
        bool plain = Share(inner) > PlainShare;
        if (plain && (segments.Contains(Source.Inferred) || windows.SkipLast(1).Any(w => w.Count > 0 && Share(w) < LeastSegmentShare)))
        {
            const string Hardly = "Parts of the line were hardly seen and are taken as straight: check the rings beside them, or use a line that stands out.";
            findings.Add(ringsAreSure ? Finding.Note(FindingCode.LineNotSeen, Hardly) : Finding.Review(FindingCode.LineNotSeen, Hardly));
        }
        else if (!plain)
        {
            findings.Add(RingReport.NoLine);
        }

        if (contradicted.Count > 0)
        {
            findings.Add(Finding.Review(
                FindingCode.GuidesUncertain,
                $"The line does not run through the ring {string.Join(", ", contradicted.Order().Select(s => $"{Math.Max(0, s):0}"))} mm from the tip: look there and mark the rings if need be.") with { Places = [.. contradicted.Order().Select(FindingPlace.At)] });
        }

        if (stepMm > CoarsestMm)
            findings.Add(Finding.Review(FindingCode.LowResolution, "The line and the rings are too small in the photo to be sure of: take it from nearer or with more pixels."));
    }

    /// <summary>How many of a segment's windows show the line.</summary>
    public static int Shown(List<LineWindow> windows) => windows.Count(w => w.Evidence > SeenEvidence);

    /// <summary>Median evidence of the windows that show the line; 0 where none does.</summary>
    public static double UsualEvidence(List<LineWindow> windows) => OrderStatistics.Middle(windows.Select(w => w.Evidence).Where(e => e > SeenEvidence), none: 0);

    /// <summary>Share of the windows that show the line, of those clear of the blank; of all where none is.</summary>
    private static double Share(List<LineWindow> windows)
    {
        List<LineWindow> clear = [.. windows.Where(w => w.NearShare < 0.5)];
        List<LineWindow> counted = clear.Count > 0 ? clear : windows;
        return counted.Count == 0 ? 0 : Shown(counted) / (double)counted.Count;
    }
}
