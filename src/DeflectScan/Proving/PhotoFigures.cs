using DeflectScan.Findings;

namespace DeflectScan.Proving;

/// <summary>What a measurement says of the things that a person can read by hand, with the covariance of its errors.</summary>
internal sealed class PhotoFigures
{
    private readonly double[] _values;
    private readonly FigureCovariance _covariance;

    private PhotoFigures(double[] values, FigureCovariance covariance)
    {
        _values = values;
        _covariance = covariance;
    }

    /// <summary>How many guides, the tip-top not counted.</summary>
    public int Guides => _values.Length / 2;

    /// <summary>Effects of a card off the rod's plane on stations and gaps.</summary>
    public IReadOnlyList<CardOffEffect> CardsOff => _covariance.CardsOff;

    /// <summary>The figures of a document, or why there are none to hold a reading against.</summary>
    public static Outcome<PhotoFigures> Of(Measurement m)
    {
        GuideReport[] guides = [.. m.Guides.Where(g => !g.IsTip)];
        if (m.Status == MeasurementStatus.Refused || guides.Length == 0 || m.Intervals.Count != guides.Length)
            return Outcome<PhotoFigures>.Refused(FindingCode.RodNotFound, "This measurement has no stations and gaps that readings could be held against: give one of the tied-off rod with its guides.");
        if (m.Covariance is not { } covariance)
        {
            return Outcome<PhotoFigures>.Refused(
                FindingCode.FileUnreadable, "This document was made before the correlations of its figures were kept: measure the photo again with this version, then compare.");
        }

        return covariance.Mm2.Count == 2 * guides.Length
            ? Outcome<PhotoFigures>.Of(new PhotoFigures([.. guides.Select(g => g.StationMm), .. m.Intervals.Select(i => i.GapMm)], covariance))
            : Outcome<PhotoFigures>.Refused(FindingCode.FileUnreadable, "The measurement document is damaged: its covariance does not fit its guides.");
    }

    /// <summary>Why a reading is of nothing in the photo, as one sentence; null where it is of something.</summary>
    public string? Problem(HandReading r)
    {
        if (r.Problem is { } wrong)
            return wrong;
        if (r.From > Guides || r.To > Guides)
        {
            return $"The photo shows {Guides} guides and the tip-top, but a reading is of guide {Math.Max(r.From, r.To ?? 0)}: count the guides on the rod and on the overlay, "
                + "and leave that reading out or measure the photo again with the right number.";
        }

        return r.Kind == ReadingKind.Gap && Math.Abs((r.To ?? (Guides + 1)) - r.From) != 1
            ? $"A gap is read between neighbours, as 3-4, or {Guides}-tip for the last one."
            : null;
    }

    /// <summary>A reading's figure as weights of stations and gaps. A guide number beyond the last is the tip-top, where stations count from.</summary>
    public IReadOnlyList<(int Figure, double Weight)> Weights(ReadingKind kind, int from, int? to)
    {
        int other = to ?? (Guides + 1);
        (int low, int high) = (Math.Min(from, other), Math.Max(from, other));
        return kind == ReadingKind.Gap ? [(Guides + low - 1, 1)] : high > Guides ? [(low - 1, 1)] : [(low - 1, 1), (high - 1, -1)];
    }

    public double Value(IReadOnlyList<(int Figure, double Weight)> weights) => weights.Sum(w => w.Weight * _values[w.Figure]);

    public double Covariance(IReadOnlyList<(int Figure, double Weight)> a, IReadOnlyList<(int Figure, double Weight)> b) =>
        a.Sum(x => b.Sum(y => x.Weight * y.Weight * _covariance.Of(x.Figure, y.Figure)));

    /// <summary>What a vector over all figures, such as a card's effect, does to a reading's figure.</summary>
    public static double Along(IReadOnlyList<(int Figure, double Weight)> weights, IReadOnlyList<double> effect) => weights.Sum(w => w.Weight * effect[w.Figure]);
}
