using System.Globalization;
using DeflectScan.Geometry;

namespace DeflectScan.Proving;

/// <summary>
/// One reading written down wrongly. Two of five slips are taken to change a digit or to swap two (each alike), one of five to be of the unit (inch for mm, a
/// tenfold), the rest may be of any size; common practice, no source. A reading times f has its density times f.
/// </summary>
internal static class SlipCauses
{
    private const double DigitShare = 0.4;
    private const double UnitShare = 0.2;
    private const double AnyShare = 0.4;

    /// <summary>How large any other slip is likely to be, mm: of a tape, of a caliper; s of <see cref="Slab"/>.</summary>
    private const double AnyStationSdMm = 50;
    private const double AnyGapSdMm = 10;

    private static readonly (double Factor, string Words)[] Units =
    [
        (UnitsText.MmPerInch, "inches written as mm"), (1 / UnitsText.MmPerInch, "mm written as inches"), (10, "cm written as mm"), (0.1, "a tenfold"),
        (UnitsText.MmPerInch / 10, "inches written as cm"), (10 / UnitsText.MmPerInch, "cm written as inches"),
    ];

    public static IEnumerable<Candidate> Of(ReadingsModel model, IReadOnlyList<HandReading> readings)
    {
        int n = model.Count;
        double[] weighted = [.. Enumerable.Range(0, n).Select(i => Enumerable.Range(0, n).Sum(j => model.Inverse[(i * n) + j] * model.DifferencesMm[j]))];
        for (int i = 0; i < n; i++)
        {
            HandReading r = readings[i];
            double information = model.Inverse[(i * n) + i];
            double pull = weighted[i];
            double share = -Math.Log(n);

            double prior = r.Kind == ReadingKind.Gap ? AnyGapSdMm : AnyStationSdMm;
            double precision = information + (1 / (prior * prior));
            double size = pull / precision;
            double moment = ((size * size) + (1 / precision)) / (prior * prior); // as in Slab
            yield return Candidate(
                (0.5 * ((pull * pull / precision) - Math.Log(1 + (prior * prior * information)))) + Math.Log(moment) + share + Math.Log(AnyShare), -size,
                Text($"by {Math.Abs(size):0.0} mm"));

            double[] digits = [.. Digits(r)];
            foreach (double true1 in digits)
                yield return Written(true1, 1, share + Math.Log(DigitShare / digits.Length), "a digit");
            foreach ((double factor, string words) in Units)
                yield return Written(r.Mm * factor, factor, share + Math.Log(UnitShare / Units.Length), words);

            Candidate Written(double trueMm, double density, double logShare, string words) => Candidate(
                Math.Log(density) + logShare - (0.5 * Change(trueMm - r.Mm)), trueMm - r.Mm, Text($"{trueMm:0.0} mm would fit ({words})"));

            // Of chi-square, where the reading were so much larger.
            double Change(double by) => (2 * by * pull) + (by * by * information);

            Candidate Candidate(double logEvidence, double by, string words) => new(
                logEvidence, model.ChiSquare + Change(by), r.From, null,
                () => Text($"The reading of {r.Name}, {r.Mm:0.0} mm, is a slip of the pen: {words}."),
                () => "Read it once more, from the other end of the tape or with the other jaws, and compare again.") { Which = r.Name };
        }
    }

    /// <summary>Readings that differ from a reading by one digit, or by two neighbouring ones swapped, mm.</summary>
    internal static IEnumerable<double> Digits(HandReading r)
    {
        double unit = r.WrittenUnitMm;
        double least = r.Kind == ReadingKind.Gap && unit < UnitsText.MmPerInch ? unit / 10 : unit; // calipers show tenths
        long whole = (long)Math.Floor((r.Mm / least) + 1e-6);
        string digits = whole.ToString(CultureInfo.InvariantCulture);
        HashSet<long> seen = [];
        for (int k = 0; k < digits.Length; k++)
        {
            for (char c = k == 0 && digits.Length > 1 ? '1' : '0'; c <= '9'; c++)
                seen.Add(long.Parse(digits[..k] + c + digits[(k + 1)..], CultureInfo.InvariantCulture));
            if (k > 0 && !(k == 1 && digits[1] == '0'))
                seen.Add(long.Parse(digits[..(k - 1)] + digits[k] + digits[k - 1] + digits[(k + 1)..], CultureInfo.InvariantCulture));
        }

        seen.Remove(whole);
        return seen.Order().Select(v => r.Mm + ((v - whole) * least));
    }

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
