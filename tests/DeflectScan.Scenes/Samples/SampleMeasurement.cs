using DeflectScan.Calibration;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Photos;
using DeflectScan.Tracing;

namespace DeflectScan.Scenes.Samples;

/// <summary>A made-up measurement with every member filled, for faces and documents to show; no photo stands behind it.</summary>
public static class SampleMeasurement
{
    public static Measurement Ok { get; } = new(
        "0.1.0",
        new PhotoInfo("photo.jpg", new string('a', 64), 4032, 3024, 6, new DateTime(2026, 5, 2, 10, 11, 12), "Example", "Phone", "Wide", 5.96, 26, 1.5),
        MeasurementStatus.Ok,
        [Finding.Note(FindingCode.LensUnknown, "The lens is not known: a lens profile would make the figures more certain.")],
        new CalibrationReport([new CardReport('A', 24, 0.123456) { OutlinePx = [new(1, 2), new(3, 4), new(5, 6), new(7, 8)] }, new CardReport('C', 22, 0.2)], "exif", 4.1, 2630.5, 0.523456, 0.21),
        BendSide.Inside,
        new BlankReport(1710.3, 83.2, [new AxisSample(0, new(3411.2, 911.85), new(0, 0), 1.9) { AcrossUncertaintyMm = 0.12 }, new AxisSample(5, new(3401.7, 909.1234), new(-4.9, 0.6), 1.95)]) { Reel = new ReelFrontReport(ReelFrontSource.Read, 1522.5, 2.6) },
        [
            new GuideReport(1, false, new(402, 1.4), 1120.5, new(1180.4, 1802.9), new(38.7, 0.3), 24.8, 6.1, Source.Traced) { FromReelUncertaintyMm = 2.4, StationSeenMm = 1.1, HeightSeenMm = 0.25 },
            new GuideReport(2, false, new(215.25, 1.1), 1307.25, new(1405.2, 1603.3), new(14.2, 0.3), null, 4, Source.Inferred) { FromReelUncertaintyMm = 2.5, StationSeenMm = 0.9, HeightSeenMm = 0.25 },
            new GuideReport(3, true, new(0, 0.8), 1522.5, new(3411.2, 905.5), new(5.1, 0.4), 7, null, Source.Marked) { FromReelUncertaintyMm = 2.6, StationSeenMm = 0.2, HeightSeenMm = 0.35 },
        ],
        new LineReport(Source.Traced, [new(1180.4, 1802.9), new(1405.2, 1603.3), new(3411.2, 905.5)]),
        [
            new IntervalReport(1, 2, 186.2, new(27.1, 0.6), 301, new(6.3, 0.3), 305, 13.8, 218, false, Source.Traced) { Seen = new SeenPart(0.55, 0.25, 0.5) },
            new IntervalReport(2, 3, 214.8, new(21.2, 0.5), 101, new(19.4, 0.3), 111, -0.4, 5, true, Source.Inferred) { Seen = new SeenPart(0.45, 0.28, 0.4) },
        ],
        new LargestReport(1, 2, 2, 3),
        new SuggestionReport(
            "One more guide between 2 and the tip-top levels the bows.", 102.5, [new MoveReport(2, 215.25, 231)], 19.4, 8.8, 27.1, 16.6,
            [new SuggestedGuide(1, 402, 38.7, new(1180.4, 1802.9)), new SuggestedGuide(null, 102.5, 9.5, new(2500, 1100)), new SuggestedGuide(3, 0, 5.1, new(3411.2, 905.5))]))
    {
        Running = new RunningReport(2, 2, 3, false),
        Budget = new BudgetReport(
        [
            new(UncertaintyCause.Rings, 0.1, 0.2, 1.5, "Tape a distance."), new(UncertaintyCause.Lens, 0.05, 0.0125, 0.4, null), new(UncertaintyCause.CardOff, 0.01, 0.001, 0.9, null),
        ]),
        Covariance = new FigureCovariance(
            [[0.49], [0.3, 0.3025], [0.01, 0.005, 0.09], [0.002, -0.001, 0.015, 0.0625]],
            [new('A', [0.125, 0.0625, 0.002, -0.0015]), new('C', [-0.05, 0.03, 0, 0.001])]),
        Pull = new PullReport(Source.Traced, -111.25, 0.24, -90.5, 18.5, [new(3400.1, 940), new(3300, 1500.25)]),
    };

    public static Measurement Refused { get; } = new(
        "0.1.0", null, MeasurementStatus.Refused, [Finding.Refuse(FindingCode.FileUnreadable, "The file is empty: copy the photo from the phone or camera once more.")],
        null, null, null, [], null, [], null, null);
}
