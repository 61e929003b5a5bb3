using DeflectScan.Findings;
using DeflectScan.Measuring.Figures;

namespace DeflectScan.Measuring;

/// <summary>Brings taped distances between rings into the adjustment; one that contradicts the photo is reported and not used.</summary>
internal static class TapeCheck
{
    public static LayoutUncertainty Use(LayoutUncertainty figures, IReadOnlyList<TapedDistance> taped, FindingLedger ledger)
    {
        foreach (TapedDistance distance in taped)
        {
            int from = distance.From - 1;
            int to = (distance.To ?? figures.Rings) - 1;
            if (from >= figures.Rings || to >= figures.Rings || from == to)
            {
                ledger.Add(Finding.Review(
                    FindingCode.GuidesUncertain,
                    $"A distance was taped to a guide that the photo does not show ({figures.Rings - 1} guides and the tip-top were found): check the guides' count."));
                continue;
            }

            Dictionary<int, double> along = new() { [Math.Min(from, to)] = 1, [Math.Max(from, to)] = -1 };
            double sdMm = distance.PlusMinusMm / Math.Sqrt(3);
            (double difference, double sd) = figures.Figures.Compare(along, distance.Mm, sdMm);
            if (Math.Abs(difference) <= LengthCheck.Contradiction * sd)
            {
                figures = figures with { Figures = figures.Figures.Given(along, distance.Mm, sdMm) };
                continue;
            }

            string name = distance.To is { } other ? $"guides {distance.From} and {other}" : $"guide {distance.From} and the tip-top";
            ledger.Add(Finding.Review(
                FindingCode.CardOffPlane,
                $"The photo says {distance.Mm - difference:0.0} mm along the blank between {name} but the tape says {distance.Mm:0.0} mm: check both rings on the overlay, the tape, and that the cards stand in the plane of the rod."));
        }

        return figures;
    }
}
