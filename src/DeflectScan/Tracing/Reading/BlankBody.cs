namespace DeflectScan.Tracing.Reading;

/// <summary>The blank's own body in a strip, as the network sees it: its middle and width at one place along it.</summary>
/// <param name="Station">mm from the axis' end at the tip.</param>
/// <param name="HeightMm">Of its middle above the axis, positive to the inside of the bend.</param>
/// <param name="WidthMm">Its width.</param>
/// <param name="Sure">Probability that the blank is seen there.</param>
internal readonly record struct BlankBody(double Station, double HeightMm, double WidthMm, double Sure)
{
    /// <summary>The body is looked for so far on either side of the axis, mm: a proposed axis lies within 5 mm, and a blank's half is at most 8 mm thick.</summary>
    private const double ReachMm = 10;

    /// <summary>Cells less likely than this are none of it: so a faint haze far from the middle does not move it.</summary>
    private const double LeastCell = 0.2;

    /// <summary>Every place along the strip at which some cell is likely to be blank, from the reel to the tip.</summary>
    public static List<BlankBody> Of(StripReading reading)
    {
        const double RowMm = StripReading.BodyRows * StripFrame.RowMm;
        List<BlankBody> places = [];
        for (int c = 0; c < reading.Body.Columns; c++)
        {
            double sum = 0;
            double moment = 0;
            double sure = 0;
            for (int r = 0; r < reading.Body.Rows; r++)
            {
                double height = StripFrame.Height(((r + 0.5) * StripReading.BodyRows) - 0.5);
                if (Math.Abs(height) > ReachMm)
                    continue;
                double p = 1 / (1 + Math.Exp(-reading.Body[r, c]));
                if (p < LeastCell)
                    continue;
                sum += p;
                moment += p * height;
                sure = Math.Max(sure, p);
            }

            if (sum > 0)
                places.Add(new BlankBody(reading.Frame.Station(((c + 0.5) * StripReading.CellColumns) - 0.5), moment / sum, sum * RowMm, sure));
        }

        return places;
    }
}
