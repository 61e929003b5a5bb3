using DeflectScan.Findings;
using DeflectScan.Photos;
using DeflectScan.Reporting;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;
using OpenCvSharp;

namespace DeflectScan.Tests.Reporting;

/// <summary>Where recognition is in doubt: only the figures of those stretches are held back, and the places stand numbered on the picture, on documents of exact truth.</summary>
public class DoubtsTests
{
    private static readonly Measurement Sound = TruthDocument.Of("clean-spinning");

    [Fact]
    public void OnlyThePairsOfADoubtfulPlaceAreHeldBack()
    {
        IntervalReport worst = Sound.FollowsWorst!;
        Measurement m = Doubtful((Sound.Guides[worst.From - 1].StationMm + Sound.Guides[worst.To - 1].StationMm) / 2);
        Assert.Equal([worst], m.Intervals.Where(p => m.InDoubt(p)));
        IntervalReport next = Sound.Intervals.Skip(2).Where(p => p != worst).MaxBy(p => p.BowMm)!;
        Assert.Equal(next, m.SureWorst());
        Assert.StartsWith("Needs review · of the pairs not in doubt follows worst: bow ", OverlayWords.Headline(m), StringComparison.Ordinal);
        Assert.Contains($"{next.BowMm:0.0} ±", OverlayWords.Headline(m), StringComparison.Ordinal);
        Assert.DoesNotContain($"{worst.BowMm:0.0} ±", OverlayWords.Headline(m) + OverlayWords.Largest(m), StringComparison.Ordinal);
        Assert.Contains($"{Sound.Intervals.Max(p => p.GapMm):0.0} ±", OverlayWords.Largest(m), StringComparison.Ordinal);
        Assert.Equal(next, WorstFigure.Of(m)!.Pair);
    }

    /// <summary>A ring in doubt belongs to both its pairs; a pair elsewhere stands.</summary>
    [Fact]
    public void ARingInDoubtHoldsBothItsPairsBack()
    {
        Measurement m = Doubtful(Sound.Guides[3].StationMm + 4);
        Assert.Equal([(3, 4), (4, 5)], m.Intervals.Where(p => m.InDoubt(p)).Select(p => (p.From, p.To)));
    }

    [Fact]
    public void ADoubtWithoutAPlaceHoldsAllBackAndOfTheSideItIsSaid()
    {
        Finding count = Finding.Review(FindingCode.GuidesUncertain, "8 rings were found with the tip-top, not 9: look at the overlay and mark the rings.");
        Measurement uncounted = Sound with { Status = MeasurementStatus.NeedsReview, Findings = [count] };
        Assert.All(uncounted.Intervals, p => Assert.True(uncounted.InDoubt(p)));
        Assert.DoesNotContain("side", OverlayWords.Headline(uncounted), StringComparison.Ordinal);
        Measurement side = uncounted with { Findings = [count with { IsOfSide = true }] };
        Assert.Contains("side of the bend is in doubt", OverlayWords.Headline(side), StringComparison.Ordinal);
        Assert.Null(side.SureWorst());
    }

    /// <summary>The list beside the picture says the numbers that stand on it; causes without a place have none, and notes are not numbered.</summary>
    [Fact]
    public void CausesAreNumberedOnceForPictureAndList()
    {
        Measurement m = Doubtful(402, 730) with
        {
            Findings =
            [
                Finding.Note(FindingCode.LensUnknown, "A note.") with { Places = [FindingPlace.At(5)] }, Loose(402), Finding.Review(FindingCode.Blurred, "Blurred."), Loose(730),
                Finding.Review(FindingCode.GuidesUncertain, "Something hides the blank.") with { Places = [new FindingPlace(100, 180)] },
            ],
        };
        Assert.Equal(
            [(null, "A note."), ("?1", "The ring 402 and 730 mm from the tip is placed loosely."), (null, "Blurred."), ("?2", "Something hides the blank.")],
            NumberedFindings.Of(m.Findings).Select(f => (f.Mark, f.Finding.Message)));
        Assert.Equal(["?1 The ring 402 and 730 mm from the tip is placed loosely.", "?2 Something hides the blank.", "Blurred."], OverlayWords.Reasons(m).Select(OverlayWords.Said));
        Assert.Equal([402.0, 730.0], NumberedFindings.Of(m.Findings)[1].Finding.Places.Select(p => p.MiddleMm));
    }

    /// <summary>At each place the picture has a mark in the colour of warnings, which the picture without doubts has not there.</summary>
    [Fact]
    public void ThePlacesAreMarkedOnThePicture()
    {
        using UprightPhoto photo = ScenePhoto.Open(Path.Combine(Repository.TestImages, "clean-spinning"));
        double[] places = [402, 730];
        Measurement m = TruthMeasurement.From(Repository.Truth("clean-spinning"), photo.Info) with { Status = MeasurementStatus.NeedsReview };
        (int bare, int marked) = (Yellow(m, places), Yellow(m with { Findings = [.. places.Select(Loose)] }, places));
        Assert.True(marked > bare + (100 * places.Length), $"{bare} yellow pixels without doubts, {marked} with two");

        // Yellow around the places, wherever the photo's top edge lies on the picture: it is found from the strips' ground in the first column.
        int Yellow(Measurement measured, double[] at)
        {
            using Mat drawn = Cv2.ImDecode(Overlay.Draw(photo, measured), ImreadModes.Color);
            (int rows, int columns) = (drawn.Rows, drawn.Cols);
            double scale = (double)columns / photo.Bgr.Cols;
            int top = 0;
            while (drawn.At<Vec3b>(top, 0) == drawn.At<Vec3b>(0, 0))
                top++;
            int yellow = 0;
            foreach (double s in at)
            {
                AxisSample near = measured.Blank!.Axis.MinBy(a => Math.Abs(a.SMm - s))!;
                (int x, int y, int reach) = ((int)(near.Px.X * scale), (int)(near.Px.Y * scale) + top, columns / 60);
                for (int row = Math.Max(0, y - reach); row < Math.Min(rows, y + reach); row++)
                {
                    for (int column = Math.Max(0, x - reach); column < Math.Min(columns, x + reach); column++)
                    {
                        Vec3b c = drawn.At<Vec3b>(row, column);
                        yellow += c is { Item2: > 235, Item1: > 200 and < 240, Item0: > 70 and < 140 } ? 1 : 0;
                    }
                }
            }

            return yellow;
        }
    }

    [Fact]
    public void PlacesAreKeptInTheDocument()
    {
        Measurement m = Doubtful(402.5) with { Findings = [Loose(402.5), Finding.Review(FindingCode.GuidesUncertain, "The side.") with { IsOfSide = true }, Finding.Review(FindingCode.Blurred, "Blurred.")] };
        Measurement read = MeasurementJson.Read(MeasurementJson.Write(m)).Value!;
        Assert.Equal(m.Findings, read.Findings);
        Assert.NotEqual(m.Findings[0], m.Findings[0] with { Places = [] });
        Assert.Equal(402.5, read.Findings[0].Places.Single().FromMm);
        Assert.True(read.SideInDoubt());
        Assert.DoesNotContain("\"places\"", MeasurementJson.Write(Sound), StringComparison.Ordinal);
    }

    private static Finding Loose(double station) =>
        Finding.Review(FindingCode.GuidesUncertain, $"The ring {station:0} mm from the tip is placed loosely.") with { Places = [FindingPlace.At(station)] };

    private static Measurement Doubtful(params double[] stations) => Sound with { Status = MeasurementStatus.NeedsReview, Findings = [.. stations.Select(Loose)] };
}
