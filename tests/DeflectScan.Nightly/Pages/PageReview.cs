using System.Net.Http.Json;
using System.Text.Json;
using DeflectScan.Geometry;
using DeflectScan.Nightly.Archives;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;
using DeflectScan.Web;
using DeflectScan.Web.Serving;

namespace DeflectScan.Nightly.Pages;

/// <summary>
/// Photos that land in review, corrected with the requests that the page's buttons and drags send: each pin is answered once, as a person who looks there would
/// (from the scene's exact truth), and nothing else is touched. Right: the guides are the scene's, each within what is stated.
/// </summary>
internal static class PageReview
{
    /// <summary>A ring that a person sees this near a pin is what the pin asks about, mm.</summary>
    private const double AtPinMm = 15;

    /// <summary>A person who sees a ring's mark off by more than this drags it, mm.</summary>
    private const double SeenOffMm = 1.5;

    public static async Task<int> Run(IReadOnlyList<string> folders, int most)
    {
        using Scratch scratch = new();
        await using PageServer server = await PageServer.Start(new ServeOptions(scratch["archive"], 0, MeasureOptions.Default));
        using HttpClient http = new() { BaseAddress = new Uri(server.Address), Timeout = TimeSpan.FromMinutes(5) };
        http.DefaultRequestHeaders.Add("Origin", server.Address.TrimEnd('/'));
        (int reviewed, int right, int looked) = (0, 0, 0);
        foreach (string scene in folders.SelectMany(Scenes).Where(f => File.Exists(Path.Combine(f, "truth.json"))))
        {
            if (reviewed >= most)
                break;
            looked++;
            using ByteArrayContent content = new(await File.ReadAllBytesAsync(Path.Combine(scene, "photo.jpg")));
            using HttpResponseMessage answer = await http.PostAsync("/api/photos?name=photo.jpg", content);
            string id = (await answer.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("id").GetString()!;
            JsonElement view = await Settled(http, id);
            if (view.GetProperty("status").GetString() != "needs_review")
                continue;
            reviewed++;
            Truth truth = Truth.Read(Path.Combine(scene, "truth.json"));
            string before = Judge(await Document(http, id), truth);
            int touches = await Answer(http, id, truth);
            string after = Judge(await Document(http, id), truth);
            string status = (await Settled(http, id)).GetProperty("status").GetString()!;
            right += after.Length == 0 ? 1 : 0;
            Console.WriteLine($"{Path.GetFileName(scene)}: {touches} touches, {(before.Length == 0 ? "right" : before)} before, {(after.Length == 0 ? "right" : after)} after, {status}");
        }

        Console.WriteLine($"{looked} photos looked at, {reviewed} in review, {right} of them right after one touch a pin");
        return right == reviewed ? 0 : 1;
    }

    private static IEnumerable<string> Scenes(string folder) =>
        File.Exists(Path.Combine(folder, "photo.jpg")) ? [folder] : Directory.GetDirectories(folder).Order(StringComparer.Ordinal);

    private static async Task<int> Answer(HttpClient http, string id, Truth truth)
    {
        HashSet<int> done = [];
        int touches = 0;
        while (touches < 40)
        {
            JsonElement view = await Settled(http, id);
            Measurement m = await Document(http, id);
            JsonElement[] pins = [.. view.GetProperty("findings").EnumerateArray().SelectMany(f => f.GetProperty("places").EnumerateArray())];
            JsonElement pin = pins.FirstOrDefault(p => !done.Contains((int)Math.Round(p.GetProperty("stationMm").GetDouble() / 10)));
            if (pin.ValueKind == JsonValueKind.Undefined)
                return touches;
            double station = pin.GetProperty("stationMm").GetDouble();
            done.Add((int)Math.Round(station / 10));
            object correction = At(pin, station, m, truth);
            using HttpResponseMessage sent = await http.PostAsJsonAsync($"/api/photos/{id}/corrections", correction);
            if (!sent.IsSuccessStatusCode)
                Console.WriteLine($"  {await sent.Content.ReadAsStringAsync()}");
            touches++;
        }

        return touches;
    }

    private static object At(JsonElement pin, double station, Measurement m, Truth truth)
    {
        Vec2 px = new(pin.GetProperty("x").GetDouble(), pin.GetProperty("y").GetDouble());
        double mmPerPx = m.Calibration!.MmPerPx;
        TruthGuide? real = truth.Guides.MinBy(g => Contact(g).DistanceTo(px));
        bool isThere = real is not null && Math.Abs(real.FromTipMm - station) < AtPinMm;
        int? guide = pin.GetProperty("guide").ValueKind == JsonValueKind.Number ? pin.GetProperty("guide").GetInt32() : null;
        return (guide, isThere) switch
        {
            ({ } n, true) when Contact(real!).DistanceTo(m.Guides[n - 1].RingPx) * mmPerPx <= SeenOffMm => new { @do = "keep", guide = n, stationMm = station },
            ({ } n, true) => new { @do = "move", guide = n, x = Contact(real!).X, y = Contact(real!).Y, stationMm = station },
            ({ } n, false) => new { @do = "remove", guide = n, stationMm = station },
            (null, true) => new { @do = "add", x = Contact(real!).X, y = Contact(real!).Y, stationMm = station },
            (null, false) => new { @do = "clear", stationMm = station },
        };
    }

    private static Vec2 Contact(TruthGuide g) => new(g.ContactPx[0], g.ContactPx[1]);

    /// <summary>What is wrong, in short; empty where the guides are the scene's within what is stated.</summary>
    private static string Judge(Measurement m, Truth truth)
    {
        if (m.Guides.Count != truth.Guides.Count)
            return $"{m.Guides.Count} rings of {truth.Guides.Count}";
        int off = m.Guides.Zip(truth.Guides).Count(p => Math.Abs(p.First.StationMm - p.Second.FromTipMm) > p.First.Station.UncertaintyMm);
        int gaps = m.Intervals.Zip(truth.Intervals.Skip(1)).Count(p => Math.Abs(p.First.GapMm - p.Second.GapMm) > 1.5 * p.First.Gap.UncertaintyMm);
        return off + gaps == 0 ? "" : $"{off} stations and {gaps} gaps off";
    }

    private static async Task<JsonElement> Settled(HttpClient http, string id)
    {
        while (true)
        {
            JsonElement view = await http.GetFromJsonAsync<JsonElement>($"/api/photos/{id}");
            if (view.GetProperty("stage").GetString() is not ("waiting" or "measuring"))
                return view;
            await Task.Delay(50);
        }
    }

    private static async Task<Measurement> Document(HttpClient http, string id)
    {
        JsonElement view = await Settled(http, id);
        return MeasurementJson.Read(await http.GetStringAsync($"/api/photos/{id}/measurement/{view.GetProperty("key").GetString()}.json")).Value!;
    }
}
