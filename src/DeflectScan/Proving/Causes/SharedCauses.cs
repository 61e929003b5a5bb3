using System.Globalization;

namespace DeflectScan.Proving;

/// <summary>Causes that move many figures at once: the print's scale, a card off the plane, the tip's place, one guide's place.</summary>
internal static class SharedCauses
{
    /// <summary>Printers that do not print at 100 % are off by some percent: "fit to page" takes 3 to 6 % off (common practice, no source).</summary>
    private const double PrintScaleSd = 0.02;

    /// <summary>A card that is not where it was meant to be stands off by a board's thickness or a clamp's (common practice, no source).</summary>
    private const double CardOffSdMm = 10;

    /// <summary>From the tip-top's ring to the end of its tube or its knot (common practice, no source).</summary>
    private const double TipSdMm = 8;

    /// <summary>A guide's foot, wrap or shadow taken for its ring lies up to some cm beside it (common practice, no source).</summary>
    private const double GuideSdMm = 30;

    /// <summary>What a ring at a wrong place may do to the gap on either side: not worked out, left free.</summary>
    private const double GapBesideSdMm = 5;

    public static IEnumerable<Candidate> PrintScale(ReadingsModel model)
    {
        if (Slab.Fit(model, [model.PhotoMm], [PrintScaleSd]) is not { } fit)
            yield break;
        double percent = 100 * (1 + fit.Size[0]);
        yield return new Candidate(
            fit.LogFactor, fit.ChiSquareLeft, null, null,
            () => Text($"The cards are printed at {percent:0.0} ± {200 * fit.Sd[0]:0.0} % of the size that the measurement took them to have."),
            () => Text($"Lay a steel rule along each card's 100 mm rule: it reads {percent:0.0} mm if this is it, and 100.0 mm if not (times any card scale that was given). If it is, measure the photo again with a card scale of {percent / 100:0.0000}, times any that was given."));
    }

    public static IEnumerable<Candidate> CardOff(ReadingsModel model, PhotoFigures photo)
    {
        foreach (CardOffEffect card in photo.CardsOff)
        {
            double[] effect = [.. model.Weights.Select(w => PhotoFigures.Along(w, card.PerMm))];
            if (Slab.Fit(model, [effect], [CardOffSdMm]) is not { } fit)
                continue;
            yield return new Candidate(
                fit.LogFactor - Math.Log(photo.CardsOff.Count), fit.ChiSquareLeft, null, card.Letter,
                () => Text($"Card {card.Letter} stood {Math.Abs(fit.Size[0]):0.0} ± {2 * fit.Sd[0]:0.0} mm {(fit.Size[0] > 0 ? "nearer to the camera" : "farther from the camera")} than the rod's plane."),
                () => Text($"Sight along the rod: put card {card.Letter} into the plane that it bends in, and take the photo again."))
            { Which = $"card {card.Letter}" };
        }
    }

    public static IEnumerable<Candidate> TipPlace(ReadingsModel model, PhotoFigures photo, IReadOnlyList<HandReading> readings)
    {
        double[] stations = [.. readings.Select(r => r is { Kind: ReadingKind.Station, To: null } ? 1.0 : 0)];
        double[] lastGap = [.. readings.Select(r => r is { Kind: ReadingKind.Gap, To: null } ? 1.0 : 0)];
        if (Fit(model, [stations, lastGap], [TipSdMm, GapBesideSdMm]) is not { } fit)
            yield break;
        yield return new Candidate(
            fit.LogFactor, fit.ChiSquareLeft, null, null,
            () => Text($"The tip-top's ring lies {Math.Abs(fit.Size[0]):0.0} ± {2 * fit.Sd[0]:0.0} mm {(fit.Size[0] > 0 ? "farther out" : "farther in")} than the photo has it, or the tape was not laid at its ring."),
            () => "Tape from where the line touches the tip-top's ring, and look at the tip on the overlay: a mark there puts it right.");
    }

    public static IEnumerable<Candidate> GuidePlace(ReadingsModel model, PhotoFigures photo, IReadOnlyList<HandReading> readings)
    {
        for (int g = 1; g <= photo.Guides; g++)
        {
            int guide = g;
            double[] stations = [.. readings.Select((r, i) => r.Kind == ReadingKind.Station ? PhotoFigures.Along(model.Weights[i], Unit(photo, guide - 1)) : 0)];
            double[] before = [.. readings.Select((r, i) => r.Kind == ReadingKind.Gap && guide > 1 ? PhotoFigures.Along(model.Weights[i], Unit(photo, photo.Guides + guide - 2)) : 0)];
            double[] after = [.. readings.Select((r, i) => r.Kind == ReadingKind.Gap ? PhotoFigures.Along(model.Weights[i], Unit(photo, photo.Guides + guide - 1)) : 0)];
            if (Fit(model, [stations, before, after], [GuideSdMm, GapBesideSdMm, GapBesideSdMm]) is not { } fit)
                continue;
            yield return new Candidate(
                fit.LogFactor - Math.Log(photo.Guides), fit.ChiSquareLeft, guide, null,
                () => Text($"Guide {guide} stands {Math.Abs(fit.Size[0]):0.0} ± {2 * fit.Sd[0]:0.0} mm {(fit.Size[0] > 0 ? "nearer to the reel" : "nearer to the tip")} than the photo has it."),
                () => Text($"Look at guide {guide} on the overlay: where its ring is not where the line touches it, put a mark there and compare again."))
            { Which = $"guide {guide}" };
        }
    }

    // Columns that no reading has to do with are left out; null where the first one is such.
    private static Slab? Fit(ReadingsModel model, double[][] columns, double[] priorSd)
    {
        int[] used = [.. Enumerable.Range(0, columns.Length).Where(c => Array.Exists(columns[c], v => v != 0))];
        return used is [0, ..] ? Slab.Fit(model, [.. used.Select(c => columns[c])], [.. used.Select(c => priorSd[c])]) : null;
    }

    private static double[] Unit(PhotoFigures photo, int figure)
    {
        double[] unit = new double[2 * photo.Guides];
        unit[figure] = 1;
        return unit;
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
