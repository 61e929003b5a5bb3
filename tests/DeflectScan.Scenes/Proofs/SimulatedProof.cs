using DeflectScan.Geometry.Propagation;
using DeflectScan.Proving;
using DeflectScan.Scenes.Propagation;
using DeflectScan.Tracing;

namespace DeflectScan.Scenes.Proofs;

/// <summary>
/// A proof on a rod that is not there: a real measurement of a rendered photo, its true figures drawn from what it states with all correlations, and readings
/// drawn from these with what is stated of them: each guide from the tip-top, each distance between neighbours, each gap.
/// </summary>
public sealed class SimulatedProof
{
    /// <summary>How far a wrong print is off.</summary>
    internal const double PrintShare = 0.015;

    /// <summary>How far a card stands off the rod's plane.</summary>
    internal const double CardOffMm = 12;

    private readonly MonteCarlo _random;
    private readonly double _readingMm;

    private SimulatedProof(int seed, double readingMm)
    {
        _random = new MonteCarlo(seed);
        _readingMm = readingMm;
    }

    /// <summary>One proof; the same for the same seed.</summary>
    /// <param name="photo">A measurement with its covariance, of two cards or more where a card is to be off.</param>
    /// <param name="readingMm">Expanded uncertainty (95 %) of every reading.</param>
    /// <param name="fault">What is wrong.</param>
    /// <param name="seed">Of the draws.</param>
    /// <returns>The report, and where the fault is: a card's or guide's place in its list, from 0; -1 without one.</returns>
    public static (ProofReport Report, int Where) Draw(Measurement photo, double readingMm, ProofFault fault, int seed) => new SimulatedProof(seed, readingMm).Made(photo, fault);

    /// <summary>A measurement of a rendered scene against readings drawn from the scene's exact truth.</summary>
    public static ProofReport OfTruth(Measurement photo, Truth truth, double readingMm, int seed)
    {
        double[] figures = [.. truth.Guides.Where(g => g.Kind != "tip").Select(g => g.FromTipMm), .. truth.Intervals.Skip(1).Select(i => i.GapMm)];
        return ProofRule.Of(photo, [.. new SimulatedProof(seed, readingMm).Readings(figures, figures.Length / 2)]).Value!;
    }

    /// <summary>The cause that a fault is.</summary>
    public static ProofCause? Expected(ProofFault fault) => fault switch
    {
        ProofFault.PrintScale => ProofCause.PrintScale,
        ProofFault.CardOff => ProofCause.CardOff,
        ProofFault.TensDigit or ProofFault.UnitsDigit => ProofCause.SlipOfPen,
        ProofFault.CountedTwiceInPhoto or ProofFault.CountedTwiceAtRod => ProofCause.GuideCount,
        _ => null,
    };

    private (ProofReport Report, int Where) Made(Measurement photo, ProofFault fault)
    {
        int guides = photo.Covariance!.Mm2.Count / 2;
        double[] true0 = TrueFigures(photo);
        int where = -1;
        double sign = _random.Rectangular(-1, 1) < 0 ? -1 : 1;
        if (fault == ProofFault.PrintScale)
            true0 = [.. true0.Select(v => v * (1 + (sign * PrintShare)))];
        if (fault == ProofFault.CardOff)
        {
            where = Whole(photo.Covariance.CardsOff.Count);
            true0 = [.. true0.Select((v, i) => v + (sign * CardOffMm * photo.Covariance.CardsOff[where].PerMm[i]))];
        }

        List<HandReading> readings = [.. Readings(true0, guides)];
        if (fault is ProofFault.TensDigit or ProofFault.UnitsDigit)
        {
            where = Whole((2 * guides) - 1);
            readings[where] = readings[where] with { Mm = OtherDigit(readings[where].Mm, fault == ProofFault.UnitsDigit ? 1 : readings[where].Mm >= 100 && _random.Rectangular(0, 1) < 0.5 ? 100 : 10) };
        }

        if (fault == ProofFault.CountedTwiceAtRod)
        {
            where = Whole(guides - 1);
            readings = [.. CountedAtRod(readings, where + 1, guides)];
        }

        if (fault == ProofFault.CountedTwiceInPhoto)
        {
            where = Whole(guides - 1);
            photo = CountedInPhoto(photo, where);
            readings.RemoveAll(r => r is { Kind: ReadingKind.Gap, To: null }); // no neighbours in the photo
        }

        return (ProofRule.Of(photo, readings).Value!, where);
    }

    // Stations, then gaps.
    private double[] TrueFigures(Measurement photo)
    {
        FigureCovariance c = photo.Covariance!;
        int n = c.Mm2.Count;
        double[,] covariance = new double[n, n];
        for (int i = 0; i < n; i++)
        {
            for (int j = 0; j < n; j++)
                covariance[i, j] = c.Of(i, j) + (i == j ? 1e-7 : 0); // rounded to 1e-6 in documents
        }

        return _random.Normals([.. photo.Guides.Where(g => !g.IsTip).Select(g => g.StationMm), .. photo.Intervals.Select(p => p.GapMm)], LinearPropagation.Root(covariance));
    }

    private IEnumerable<HandReading> Readings(double[] figures, int guides)
    {
        for (int g = 1; g <= guides; g++)
            yield return Read(ReadingKind.Station, g, null, figures[g - 1]);
        for (int g = 1; g < guides; g++)
            yield return Read(ReadingKind.Station, g, g + 1, figures[g - 1] - figures[g]);
        for (int g = 1; g <= guides; g++)
            yield return Read(ReadingKind.Gap, g, g == guides ? null : g + 1, figures[guides + g - 1]);
    }

    private HandReading Read(ReadingKind kind, int from, int? to, double mm) => new(kind, from, to, Math.Max(0, _random.Normal(mm, _readingMm / 2)), _readingMm);

    private double OtherDigit(double mm, int place)
    {
        int old = (int)(mm / place) % 10;
        bool leading = mm < 10 * place;
        int other;
        do
            other = leading ? 1 + Whole(9) : Whole(10);
        while (other == old);
        return mm + ((other - old) * place);
    }

    /// <summary>How likely a slip of tens or hundreds of mm is to be in this place of a reading.</summary>
    internal static double PlaceShare(double mm, double place) => mm >= 100 ? 0.5 : place < 100 ? 1 : 0;

    /// <summary>How likely a reading whose digit was another becomes one with this digit.</summary>
    internal static double DigitShare(double mm, int before, int after, double place) =>
        mm >= 10 * place ? 1.0 / 9 : after == 0 ? 0 : before == 0 ? 1.0 / 9 : 1.0 / 8;

    // From the guide after the one counted twice on, numbers are one too high; one that the photo has no guide for is not read.
    private IEnumerable<HandReading> CountedAtRod(List<HandReading> readings, int twice, int guides)
    {
        int Number(int g) => g > twice ? g + 1 : g;
        foreach (HandReading r in readings)
        {
            int from = Number(r.From);
            int? to = r.To is { } other ? Number(other) : null;
            bool neighbours = r.Kind == ReadingKind.Station || (to ?? (guides + 1)) == from + 1;
            if (from <= guides && !(to > guides) && neighbours)
                yield return r with { From = from, To = to };
        }

        HandReading again = readings[twice - 1];
        if (twice + 1 <= guides)
            yield return again with { From = twice + 1, Mm = Math.Max(5, _random.Normal(again.Mm, _readingMm / 4)) };
    }

    // A second ring beside one of the photo's, with nearly the same errors.
    private Measurement CountedInPhoto(Measurement photo, int twice)
    {
        double beside = _random.Rectangular(8, 25);
        GuideReport ring = photo.Guides[twice];
        GuideReport second = ring with { Station = ring.Station with { Mm = ring.StationMm - beside } };
        GuideReport[] guides = [.. photo.Guides.Take(twice + 1), second, .. photo.Guides.Skip(twice + 1)];
        IntervalReport pair = photo.Intervals[twice];
        IntervalReport between = pair with { ChordMm = beside, Gap = pair.Gap with { Mm = Math.Min(pair.GapMm, ring.HeightMm) }, Source = Source.Traced };
        IntervalReport[] pairs = [.. photo.Intervals.Take(twice), between, .. photo.Intervals.Skip(twice)];
        FigureCovariance c = photo.Covariance!;
        int n = c.Mm2.Count / 2;
        int[] old = [.. Doubled(0), .. Doubled(n)];
        return photo with
        {
            Guides = [.. guides.Select((g, i) => g with { Index = i + 1 })],
            Intervals = [.. pairs.Select((p, i) => p with { From = i + 1, To = i + 2 })],
            Covariance = new FigureCovariance(
                [.. old.Select((a, i) => (IReadOnlyList<double>)[.. old.Take(i + 1).Select((b, j) => c.Of(a, b) + (i == j && IsSecond(i) ? 0.04 : 0))])],
                [.. c.CardsOff.Select(o => new CardOffEffect(o.Letter, [.. old.Select(a => o.PerMm[a])]))]),
        };

        IEnumerable<int> Doubled(int from) => Enumerable.Range(from, n).SelectMany(i => i - from == twice ? (int[])[i, i] : [i]);
        bool IsSecond(int i) => i == twice + 1 || i == n + 1 + twice + 1;
    }

    private int Whole(int below) => Math.Min(below - 1, (int)_random.Rectangular(0, below));
}
