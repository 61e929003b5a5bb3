using System.Globalization;
using System.Text.Json;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Reporting.Json;
using DeflectScan.Web.Trying;

namespace DeflectScan.Web.Tests;

/// <summary>What the page shows of another layout is what the command line prints, to the last digit, and what its own geometry shows meanwhile is the same.</summary>
[Collection(PageTests.Name)]
public sealed class TryFiguresTests(PageFixture page, BrowserFixture browser) : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("deflectscan-try-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private string Try => $"/api/photos/{page.Measured}/try/read/";

    private async Task<string> Document()
    {
        string path = Path.Combine(_folder, "measurement.json");
        await File.WriteAllTextAsync(path, await page.Server.Http.GetStringAsync($"/api/photos/{page.Measured}/measurement/read.json"));
        return path;
    }

    private async Task<MeasuredLayout> Rod() => MeasuredLayout.Of(MeasurementJson.Read(await File.ReadAllTextAsync(await Document())).Value!).Value!;

    private static string ReportOf(string envelope) => JsonDocument.Parse(envelope).RootElement.GetProperty("report").GetRawText();

    [Fact]
    public async Task AWhatIfIsTheCommandLinesLetterForLetter()
    {
        string printed = await CommandLine.Run([0], "whatif", await Document(), "--move", "5=402.3mm", "--add", "512mm", "--remove", "6", "--json");
        string shown = await page.Server.Http.GetStringAsync(Try + "whatif?layout=5@402.3,a512,x6");
        Assert.Equal(printed.TrimEnd(), ReportOf(shown));
    }

    [Theory]
    [InlineData("mm", "bow", 8)]
    [InlineData("mm", "bow", 6)]
    [InlineData("in", "gap", 8)]
    public async Task TheBestSpacingAndItsCurveAreTheCommandLines(string units, string goal, int guides)
    {
        string printed = await CommandLine.Run([0], "spacing", await Document(), "--guides", guides.ToString(CultureInfo.InvariantCulture), "--level", goal, "--units", units, "--json");
        string shown = await page.Server.Http.GetStringAsync($"{Try}spacing?guides={guides}&goal={goal}&units={units}");
        Assert.Equal(printed.TrimEnd(), ReportOf(shown));
    }

    [Fact]
    public async Task OtherLoadsAreTheCommandLines()
    {
        string printed = await CommandLine.Run([0, 4], "bend", await Document(), "--json");
        string shown = await page.Server.Http.GetStringAsync(Try + "bend?layout=");
        Assert.Equal(printed.TrimEnd(), ReportOf(shown));
    }

    [Fact]
    public async Task TheKeptLayoutAndItsPaperAreTheCommandLines()
    {
        string kept = Path.Combine(_folder, "layout.json"), tape = Path.Combine(_folder, "tape.pdf"), sheet = Path.Combine(_folder, "sheet.pdf");
        await CommandLine.Run([0], "whatif", await Document(), "--move", "5=402.3mm", "--title", "Rod 7", "--save", kept);
        await CommandLine.Run([0], "tape", kept, "--out", tape, "--paper", "letter");
        await CommandLine.Run([0], "sheet", kept, "--out", sheet);
        Assert.Equal(await File.ReadAllTextAsync(kept), await page.Server.Http.GetStringAsync(Try + "layout.json?layout=5@402.3&title=Rod%207"));
        Assert.Equal(Content(await File.ReadAllBytesAsync(tape)), Content(await page.Server.Http.GetByteArrayAsync(Try + "tape.pdf?layout=5@402.3&title=Rod%207&paper=letter")));
        Assert.Equal(Content(await File.ReadAllBytesAsync(sheet)), Content(await page.Server.Http.GetByteArrayAsync(Try + "sheet.pdf?layout=5@402.3&title=Rod%207")));
    }

    /// <summary>A PDF without the lines that say when it was made and the numbers that are made up for each.</summary>
    private static string Content(byte[] pdf) => System.Text.RegularExpressions.Regex.Replace(
        System.Text.Encoding.Latin1.GetString(pdf), @"/(CreationDate|ModDate)\s*\([^)]*\)|/ID\s*\[[^\]]*\]|[A-Z]{6}\+|uuid:[0-9a-fA-F-]+|<xmp:[A-Za-z]+Date>[^<]*", "");

    [Fact]
    public async Task APlanAndItsPaperAreTheCommandLines()
    {
        string kept = Path.Combine(_folder, "plan.json");
        string printed = await CommandLine.Run([0], "plan", "--rod-length", "6ft 6in", "--reel-at", "300mm", "--reel", "2500", "--running", "bow", "--strength", "10lb", "--json", "--save", kept);
        const string form = "length=6ft%206in&reelAt=300&reel=2500&running=bow&strength=10lb";
        Assert.Equal(printed.TrimEnd(), ReportOf(await page.Server.Http.GetStringAsync("/api/start/plan?" + form)));
        Assert.Equal(await File.ReadAllTextAsync(kept), await page.Server.Http.GetStringAsync("/api/start/layout.json?" + form));
    }

    /// <summary>Forty layouts of moved, added and removed guides: the page's own geometry, as dragging shows it, against the library's.</summary>
    [Fact]
    public async Task FiguresOfADraggedGuideAreTheLibrarysToTheLastPrintedDigit()
    {
        MeasuredLayout rod = await Rod();
        await using Screen screen = await browser.Open(page.Server, Look.Desk);
        await screen.Page.GotoAsync("/");
        Random random = new(11);
        for (int trial = 0; trial < 40; trial++)
        {
            GuideChange[] changes = Changes(rod, random);
            string text = TriedLayout.Write(changes);
            WhatIfReport report = InputException.Unless(WhatIfReport.Of(rod, TriedLayout.Read(text), null));
            string[] expected = [.. report.After.Pairs.SelectMany(p => new[] { p.GapMm, p.BowMm, p.ClearanceMm }).Concat(report.After.Guides.SelectMany(g => new[] { g.StationMm, g.HeightMm }))
                .Select(mm => UnitsInSentences.Bare(mm, LengthUnit.Millimetres))];
            string[] shown = await screen.Page.EvaluateAsync<string[]>(
                """
                async ([id, text]) => {
                  const [{ Blank, ringsOf }, { PlaneMap }, { bare }, trial] = await Promise.all(['geometry/interval', 'geometry/plane', 'format', 'try/trial'].map(n => import(`/js/${n}.js`)));
                  const get = async what => (await fetch(`/api/photos/${id}/${what}/read.json`)).json();
                  const doc = await get('measurement'), blank = new Blank(doc);
                  const layout = trial.readLayout(text), state = trial.trialState(trial.baseOf(doc, blank, new PlaneMap(await get('map')), ringsOf(blank, doc)), layout);
                  if (trial.writeLayout(layout) !== text) throw new Error(`${trial.writeLayout(layout)} is not ${text}`);
                  return [...state.figures.flatMap(f => [f.gap, f.bow, f.clearance]), ...state.doc.guides.flatMap(g => [g.station_mm, g.height_mm])].map(v => bare(v, 'mm'));
                }
                """,
                new object[] { page.Measured, text });
            Assert.Equal(expected, shown);
        }
    }

    private static GuideChange[] Changes(MeasuredLayout rod, Random random)
    {
        int last = rod.Rings.Count - 1;
        int moved = random.Next(last), off = random.Next(last);
        double low = rod.Rings[moved + 1].StationMm + 6, high = moved > 0 ? rod.Rings[moved - 1].StationMm - 6 : rod.Shape.LengthMm - 2;
        List<GuideChange> changes = [new MoveTo(moved + 1, Math.Round(low + (random.NextDouble() * (high - low)), 1))];
        int at = random.Next(last);
        if (at != moved && at + 1 != moved && random.Next(2) == 0)
            changes.Add(new AddAt(Math.Round((rod.Rings[at].StationMm + rod.Rings[at + 1].StationMm) / 2, 1)));
        if (off != moved && random.Next(2) == 0)
            changes.Add(new TakeOff(off + 1));
        return [.. changes];
    }
}
