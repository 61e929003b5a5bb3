namespace DeflectScan.Calibration;

/// <summary>How far a card may stand off the rod plane: standard deviations of its height and of each of its two leans; infinite: freely.</summary>
internal readonly record struct CardTolerance(double HeightSdMm, double LeanSdDeg)
{
    public static CardTolerance Free => new(double.PositiveInfinity, double.PositiveInfinity);

    public double HeightInformation => 1 / (HeightSdMm * HeightSdMm);

    public double LeanInformation => 1 / Math.Pow(LeanSdDeg * Math.PI / 180, 2);

    /// <summary>What the person stated; null where the cards are taken to stand in the plane.</summary>
    public static CardTolerance? Stated(CalibrationOptions options) =>
        options.CardOffPlaneSdMm > 0 || options.CardLeanSdDeg > 0
            ? new CardTolerance(Math.Max(options.CardOffPlaneSdMm, 1e-3), Math.Max(options.CardLeanSdDeg, 1e-3))
            : null;

    /// <summary>What cards set up by hand may be expected to do.</summary>
    public static CardTolerance ByHand(CalibrationOptions options) => new(options.ByHandHeightSdMm, options.ByHandLeanSdDeg);
}
