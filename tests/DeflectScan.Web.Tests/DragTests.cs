using System.Text.Json;
using DeflectScan.Measuring;
using DeflectScan.Geometry;
using DeflectScan.Layout;
using DeflectScan.Reporting.Json;
using Microsoft.Playwright;

namespace DeflectScan.Web.Tests;

/// <summary>The page's own geometry against the library's, and rings dragged by mouse, finger and keys.</summary>
[Collection(PageTests.Name)]
public class DragTests(PageFixture page, BrowserFixture browser)
{
    private static string Printed(double mm) => UnitsInSentences.Bare(mm, LengthUnit.Millimetres);

    private async Task<Measurement> Read() => MeasurementJson.Read(await page.Server.Http.GetStringAsync($"/api/photos/{page.Measured}/measurement/read.json")).Value!;

    [Fact]
    public async Task FiguresOfADraggedRingAreTheLibrarysToTheLastPrintedDigit()
    {
        Measurement m = await Read();
        using MeasureRun run = MeasurePipeline.Run(TestServer.TestPhoto("clean-spinning"), MeasureOptions.Default);
        BlankShape shape = BlankShape.Through([.. m.Blank!.Axis.Select(a => a.Mm)], [.. m.Blank.Axis.Select(a => a.DiameterMm)]);
        Vec2 origin = run.Plane!.ToPlane(m.Blank.Axis[0].Px);
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        await screen.ShowPhoto(page.Measured);
        Random random = new(7);
        for (int trial = 0; trial < 40; trial++)
        {
            int guide = random.Next(m.Guides.Count);
            Vec2 px = m.Guides[guide].RingPx + new Vec2((random.NextDouble() * 60) - 30, (random.NextDouble() * 60) - 30);
            RingPoint[] rings = [.. m.Guides.Select((g, i) => i == guide
                ? RingPoint.Seen(shape, run.Plane.ToPlane(px) - origin)
                : RingPoint.At(shape, g.StationMm, g.HeightMm, GuideSide.Inside))];
            LayoutResult right = LayoutRule.Evaluate(shape, rings, GuideSide.Inside);
            string[] expected = [.. right.Intervals.SelectMany(i => new[] { Printed(i.GapMm), Printed(i.BowMm), Printed(i.ClearanceMm) }), Printed(rings[guide].StationMm)];
            string[] shown = await screen.Page.EvaluateAsync<string[]>(
                """
                async ([id, guide, x, y]) => {
                  const [{ Blank, measure, ringsOf }, { PlaneMap }, { bare }] = await Promise.all(['geometry/interval', 'geometry/plane', 'format'].map(n => import(`/js/${n}.js`)));
                  const get = async what => (await fetch(`/api/photos/${id}/${what}/read.json`)).json();
                  const doc = await get('measurement'), blank = new Blank(doc), rings = ringsOf(blank, doc);
                  rings[guide] = blank.seen(new PlaneMap(await get('map')).toMm({ x, y }));
                  return [...doc.intervals.flatMap((_, i) => {
                    const f = measure(blank, rings[i], rings[i + 1]);
                    return [f.gap, f.bow, f.clearance].map(v => bare(v, 'mm'));
                  }), bare(rings[guide].s, 'mm')];
                }
                """,
                new object[] { page.Measured, guide, px.X, px.Y });
            Assert.Equal(expected, shown);
        }
    }

    [Fact]
    public async Task LengthsArePrintedAsTheLibraryPrintsThem()
    {
        Random random = new(3);
        double[] lengths = [0, 0.05, 0.25, 1.5875, 25.4, 12.7, 402, .. Enumerable.Range(0, 500).Select(_ => Math.Round(random.NextDouble() * 2000, random.Next(5)) - 100)];
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        await screen.Page.GotoAsync("/");
        string[][] shown = await screen.Page.EvaluateAsync<string[][]>(
            "async lengths => { const f = await import('/js/format.js'); return lengths.map(l => [f.bare(l, 'mm'), f.bare(l, 'in'), f.sixteenths(l), f.within(Math.abs(l), 'mm'), f.within(Math.abs(l), 'in')]); }",
            lengths);
        for (int i = 0; i < lengths.Length; i++)
        {
            double l = lengths[i];
            string[] expected =
            [
                Printed(l), UnitsInSentences.Bare(l, LengthUnit.Inches), UnitsText.Sixteenths(l), Printed(UnitsText.RoundedUp(Math.Abs(l), 0.1)),
                UnitsInSentences.Bare(UnitsText.RoundedUp(Math.Abs(l), 0.01 * UnitsText.MmPerInch), LengthUnit.Inches),
            ];
            Assert.Equal(expected, shown[i]);
        }
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task ADraggedRingAnswersAtOnceAndIsMeasuredAgain(bool phone)
    {
        await using TestServer own = await TestServer.WithMeasured(page);
        string id = page.Measured;
        await using Screen screen = await browser.Open(own, phone ? Look.Phone : Look.Desk);
        await screen.ShowPhoto(id);
        await screen.Page.Locator(".photo-frame").ScrollIntoViewIfNeededAsync();
        await screen.Page.EvaluateAsync("document.querySelector('[data-ring=\"4\"]').scrollIntoView({ block: 'center' })");
        LocatorBoundingBoxResult frame = (await screen.Page.Locator(".photo-frame").BoundingBoxAsync())!;
        LocatorBoundingBoxResult ring = (await screen.Page.Locator("[data-ring='4'] .mark").BoundingBoxAsync())!;
        await Pointing.Drag(screen, phone, (ring.X + (ring.Width / 2), ring.Y + (ring.Height / 2)), (10, 4), async () =>
        {
            await Assertions.Expect(screen.Page.Locator(".loupe")).ToBeVisibleAsync();
            await Assertions.Expect(screen.Page.Locator("tr.live")).ToHaveCountAsync(2); // both its pairs, and no others
            LocatorBoundingBoxResult still = (await screen.Page.Locator(".photo-frame").BoundingBoxAsync())!;
            Assert.Equal((frame.Width, frame.Height), (still.Width, still.Height)); // nothing jumps
            await screen.Keep(phone ? "drag-phone" : "drag-desk");
        });
        await Assertions.Expect(screen.Page.Locator("#toast")).ToContainTextAsync("Guide 4 moved");
        JsonElement photo = await own.Settled(id);
        Assert.Equal([4], photo.GetProperty("placed").EnumerateArray().Select(p => p.GetInt32()));
        await Assertions.Expect(screen.Page.Locator("[data-ring='4'] rect.mark")).ToHaveCountAsync(1); // a square: placed by a person
        await screen.Page.Keyboard.PressAsync("Control+z");
        await Assertions.Expect(screen.Page.Locator("[data-ring='4'] circle.mark")).ToHaveCountAsync(1);
        Assert.Equal("Guide 4 moved", (await own.Settled(id)).GetProperty("redo").GetString());
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task ARingIsDraggedInTheStripTooAndIsMeasuredAgain(bool phone)
    {
        await using TestServer own = await TestServer.WithMeasured(page);
        string id = page.Measured;
        await using Screen screen = await browser.Open(own, phone ? Look.Phone : Look.Desk);
        await screen.ShowPhoto(id);
        if (phone)
            await screen.Page.ClickAsync(".fold summary");
        const string InStrip = "[data-slides='4'] .mark", OnPhoto = ".marks [data-ring='4'] .mark";
        (float X, float Y) from = await Pointing.Middle(screen, InStrip), photo = await Place(OnPhoto);
        await Pointing.Drag(screen, phone, from, (14, -9), async () =>
        {
            await Assertions.Expect(screen.Page.Locator("tr.live")).ToHaveCountAsync(2); // both its pairs, and no others
            (float X, float Y) now = await Place(InStrip), there = await Place(OnPhoto);
            Assert.InRange(now.X - from.X, 13, 15); // it stays under the pointer: along the blank and away from it
            Assert.InRange(now.Y - from.Y, -10, -8);
            Assert.InRange(Math.Abs(there.X - photo.X) + Math.Abs(there.Y - photo.Y), 2, 200); // and the photo shows where that is
            await Assertions.Expect(screen.Page.Locator(".loupe")).ToBeVisibleAsync();
            await own.Tell(id, "back"); // what another phone does draws the view anew, and the ring stays in hand
            await screen.Keep(phone ? "drag-strip-phone" : "drag-strip-desk");
        });
        await Assertions.Expect(screen.Page.Locator("#toast")).ToContainTextAsync("Guide 4 moved");
        Assert.Equal([4], (await own.Settled(id)).GetProperty("placed").EnumerateArray().Select(p => p.GetInt32()));
        await Assertions.Expect(screen.Page.Locator("[data-slides='4'] rect.mark")).ToHaveCountAsync(1); // a square: placed by a person
        await screen.Page.Keyboard.PressAsync("Control+z");
        await Assertions.Expect(screen.Page.Locator("[data-slides='4'] circle.mark")).ToHaveCountAsync(1);
        Assert.Equal("Guide 4 moved", (await own.Settled(id)).GetProperty("redo").GetString());

        async Task<(float X, float Y)> Place(string selector)
        {
            LocatorBoundingBoxResult box = (await screen.Page.Locator(selector).BoundingBoxAsync())!;
            return (box.X + (box.Width / 2), box.Y + (box.Height / 2));
        }
    }

    /// <summary>The tip-top's ring is the last: it can be moved as well, and keys go along the blank and away from it.</summary>
    [Theory]
    [InlineData(4, "Guide 4 moved")]
    [InlineData(8, "The tip-top's ring moved")]
    public async Task ArrowKeysInTheStripGoAlongTheBlankAndOffIt(int guide, string said)
    {
        await using TestServer own = await TestServer.WithMeasured(page);
        await using Screen screen = await browser.Open(own, Look.Desk);
        await screen.ShowPhoto(page.Measured);
        await screen.Page.FocusAsync($"[data-slides='{guide}']");
        (double station, double height) = (await Figure("station"), await Figure("height"));
        await screen.Page.Keyboard.PressAsync("Shift+ArrowLeft"); // towards the reel
        await screen.Page.Keyboard.PressAsync("ArrowLeft");
        await screen.Page.Keyboard.PressAsync("ArrowUp");
        await screen.Page.Keyboard.PressAsync("ArrowUp");
        Assert.InRange(await Figure("station") - station, 1.0, 1.2); // 1.1 mm, printed to a tenth
        Assert.InRange(await Figure("height") - height, 0.1, 0.3);
        await Assertions.Expect(screen.Page.Locator($"[data-slides='{guide}']")).ToBeFocusedAsync();
        await Assertions.Expect(screen.Page.Locator("#toast")).ToContainTextAsync(said);
        Assert.Equal(said, (await own.Settled(page.Measured)).GetProperty("undo").GetString());

        async Task<double> Figure(string figure) => double.Parse((await screen.Page.Locator($"tr:nth-child({guide}) > [data-figure='{figure}']").InnerTextAsync()).Split(' ')[0], System.Globalization.CultureInfo.InvariantCulture);
    }

    [Fact]
    public async Task ArrowKeysNudgeByATenthOfAMillimetre()
    {
        await using TestServer own = await TestServer.WithMeasured(page);
        string id = page.Measured;
        await using Screen screen = await browser.Open(own, Look.Desk);
        await screen.ShowPhoto(id);
        await screen.Page.FocusAsync("[data-ring='4']");
        string before = await Height();
        await screen.Page.Keyboard.PressAsync("Shift+ArrowDown");
        for (int i = 0; i < 3; i++)
            await screen.Page.Keyboard.PressAsync("ArrowDown");
        double moved = double.Parse(await Height()) - double.Parse(before);
        Assert.InRange(moved, 1.0, 1.4); // 1.3 mm straight down, where the blank runs nearly level
        await Assertions.Expect(screen.Page.Locator("#toast")).ToContainTextAsync("Guide 4 moved");
        await own.Settled(id);

        Task<string> Height() => screen.Page.Locator("table.figures >> nth=1 >> tr >> nth=4 >> td >> nth=1").InnerTextAsync();
    }
}
