using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Scenes.Samples;
using DeflectScan.Web.Correcting;
using DeflectScan.Web.Words;

namespace DeflectScan.Web.Tests;

/// <summary>What a correction makes of the marks, and how the log keeps it.</summary>
public sealed class CorrectionTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("deflectscan-marks-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private static Measurement Shown { get; } = SampleMeasurement.Ok;

    private string Log => Path.Combine(_folder, "marks.jsonl");

    [Fact]
    public void AMovedRingLeavesTheOthersWhereTheyWere()
    {
        MarksState state = new Correction("move", 2, 1410, 1600, null).On(Shown, MarksState.None, []);
        Assert.True(state.Marks.IsComplete);
        Assert.Equal([Shown.Guides[0].RingPx, Shown.Guides[2].RingPx, new Vec2(1410, 1600)], state.Marks.RingsPx);
        Assert.Equal([new Vec2(1410, 1600)], state.PlacedPx);
        Assert.Equal("Guide 2 moved", state.Says);
    }

    [Fact]
    public void ARingThatIsMovedTwiceIsPlacedOnce()
    {
        MarksState once = new Correction("move", 2, 1410, 1600, null).On(Shown, MarksState.None, []);
        Measurement then = Shown with { Guides = [Shown.Guides[0], Shown.Guides[1] with { RingPx = new Vec2(1409, 1601) }, Shown.Guides[2]] };
        MarksState twice = new Correction("move", 2, 1420, 1590, null).On(then, once, []);
        Assert.Equal([new Vec2(1420, 1590)], twice.PlacedPx);
        Assert.Equal(3, twice.Marks.RingsPx.Count);
    }

    [Fact]
    public void AddingAndTakingOff()
    {
        Assert.Equal(4, new Correction("add", null, 2000, 1200, null).On(Shown, MarksState.None, []).Marks.RingsPx.Count);
        Assert.Equal([Shown.Guides[1].RingPx, Shown.Guides[2].RingPx], new Correction("remove", 1, null, null, null).On(Shown, MarksState.None, []).Marks.RingsPx);
        Assert.Throws<InputException>(() => new Correction("remove", 3, null, null, null).On(Shown, MarksState.None, []));
    }

    /// <summary>A pin beside a ring asks for a guide there, and who sees one taps the ring that stands already: a second one beside it spoilt the figures.</summary>
    [Fact]
    public void AGuideAddedWhereOneStandsIsThatOne()
    {
        Vec2 there = Shown.Guides[1].RingPx + new Vec2(3, -2);
        MarksState state = new Correction("add", null, there.X, there.Y, 118).On(Shown, MarksState.None, [118, 309]);
        Assert.Equal([Shown.Guides[0].RingPx, Shown.Guides[2].RingPx, there], state.Marks.RingsPx);
        Assert.Equal([309.0], state.OpenMm);
        Assert.Equal("Guide 2 moved", state.Says);
    }

    [Fact]
    public void OnlyThePlaceThatWasAnsweredIsSettled()
    {
        // The library takes complete marks as the answer to every doubt; a person who looked at one place has not looked at the other.
        MarksState state = new Correction("clear", null, null, null, 118).On(Shown, MarksState.None, [118, 309]);
        Assert.Equal([309.0], state.OpenMm);
        IReadOnlyList<PlacedFinding> findings = FindingPlaces.Of(Shown, state.OpenMm, LengthUnit.Millimetres);
        Place open = Assert.Single(findings[0].Places);
        Assert.Equal(309, open.StationMm);
        Assert.Equal("review", findings[0].Severity);
        Assert.Equal("Look at 1 place", Headline.Of(Shown, 1, LengthUnit.Millimetres).Status);
    }

    [Fact]
    public void TheLogIsReadBackAsItWasWritten()
    {
        MarksLog log = MarksLog.Open(Log);
        log.Set(new Correction("move", 2, 1410.25, 1600.5, null).On(Shown, log.Now, [7.5]));
        log.Set(new Correction("tip", null, 3400, 900, null).On(Shown, log.Now, []));
        log.Undo();
        MarksLog again = MarksLog.Open(Log);
        Assert.Equal(log.Now.Marks.ToJson(), again.Now.Marks.ToJson());
        Assert.Equal([7.5], again.Now.OpenMm);
        Assert.True(again is { CanUndo: true, CanRedo: true });
        again.Redo();
        Assert.Equal(new Vec2(3400, 900), MarksLog.Open(Log).Now.Marks.TipPx);
        again.Undo();
        again.Undo();
        again.Undo();
        Assert.True(MarksLog.Open(Log).Now.Marks.IsEmpty);
    }

    [Fact]
    public void ALogCutAtAnyByteHoldsEveryWholeStep()
    {
        MarksLog log = MarksLog.Open(Log);
        for (int i = 0; i < 4; i++)
            log.Set(new Correction("move", 2, 1400 + i, 1600, null).On(Shown, log.Now, []));
        byte[] whole = File.ReadAllBytes(Log);
        for (int cut = 0; cut <= whole.Length; cut += 7)
        {
            File.WriteAllBytes(Log, whole[..cut]);
            int steps = whole[..cut].Count(b => b == (byte)'\n');
            MarksLog read = MarksLog.Open(Log);
            Assert.Equal(steps == 0 ? MarksState.None.Says : "Guide 2 moved", read.Now.Says);
            Assert.Equal(steps == 0 ? null : 1399 + steps, read.Now.PlacedPx.Select(p => (double?)p.X).LastOrDefault());
            read.Set(new Correction("add", null, 1, 1, null).On(Shown, read.Now, []));
            Assert.Equal("A guide added", MarksLog.Open(Log).Now.Says);
        }
    }

    [Theory]
    [InlineData("Look at the tip: a mark there puts it right.", "Look at the tip: a mark there (drag its ring on the photo) puts it right.")]
    [InlineData("Two rings (5 and 6) are 12.0 mm apart.", "Two rings (5 and 6) are 12.0 mm apart.")]
    public void ASentenceIsToldHowItIsDoneOnThePage(string said, string shown) => Assert.Equal(shown, PageWords.Of(said, LengthUnit.Millimetres));

    [Fact]
    public void ARingThatIsMovedAnswersTheDoubtAboutIt()
    {
        double station = Shown.Guides[1].StationMm;
        Assert.Equal([station + 90], new Correction("move", 2, 1410, 1600, null).On(Shown, MarksState.None, [station + 2, station + 90]).OpenMm);
    }

    /// <summary>The document says where a finding is; a number in its sentence may be anything.</summary>
    [Fact]
    public void APlaceIsTheDocumentsAndNotReadFromASentence()
    {
        Measurement m = Shown with
        {
            Status = MeasurementStatus.NeedsReview,
            Findings =
            [
                Finding.Review(FindingCode.GuidesUncertain, "Of 3 rings 210 mm from the tip nothing is known.") with { Places = [new FindingPlace(100, 140)] },
                Finding.Review(FindingCode.Blurred, "The blank 512 mm from the tip is blurred: hold the camera still."),
                Finding.Note(FindingCode.GuidesUncertain, "Only said.") with { Places = [FindingPlace.At(300)] },
            ],
        };
        Assert.Equal([[120.0], [], []], FindingPlaces.Of(m, [], LengthUnit.Millimetres).Select(f => f.Places.Select(p => p.StationMm)));
        Assert.Equal([120.0], FindingPlaces.Doubts(m));
    }

    [Fact]
    public void AnOpenPlaceThatTheMeasurementNamesItselfIsPutUpOnce()
    {
        Measurement m = Shown with
        {
            Status = MeasurementStatus.NeedsReview,
            Findings = [Finding.Review(FindingCode.GuidesUncertain, "The guide nearest the reel stands elsewhere.") with { Places = [FindingPlace.At(309)] }],
        };
        Assert.Equal([118.0, 309], FindingPlaces.Of(m, [118, 309], LengthUnit.Millimetres).SelectMany(f => f.Places).Select(p => p.StationMm));
    }

    [Fact]
    public void OneCauseIsOneFindingWithNumberedPlaces()
    {
        Measurement m = Shown with
        {
            Status = MeasurementStatus.NeedsReview,
            Findings = [.. new[] { 210, 110 }.Select(s => Finding.Review(FindingCode.GuidesUncertain, $"The ring {s} mm from the tip is placed to about 9 mm only, as the line hardly turns there: mark it.") with { Places = [FindingPlace.At(s)] })],
        };
        PlacedFinding only = Assert.Single(FindingPlaces.Of(m, [], LengthUnit.Millimetres));
        Assert.Equal([1, 2], only.Places.Select(p => p.Number));
        Assert.Equal([null, 2], only.Places.Select(p => p.Guide)); // from the tip, as on the overlay
        Assert.Equal("Look at 2 places", Headline.Of(m, 2, LengthUnit.Millimetres).Status);
    }

    [Fact]
    public void TheHeadlineNamesThePairThatFollowsWorst()
    {
        Headline headline = Headline.Of(Shown, 0, LengthUnit.Millimetres);
        Assert.Equal(("Measured", "Guide 2 to tip-top follows worst: bow 19.4 ±0.3 mm", 2), (headline.Status, headline.Answer, headline.From));
        Assert.Equal("Guide 2 to tip-top follows worst: bow 0.76 ±0.02 in", Headline.Of(Shown, 0, LengthUnit.Inches).Answer);
        Assert.Equal("Not measured", Headline.Of(SampleMeasurement.Refused, 0, LengthUnit.Millimetres).Status);
    }
}
