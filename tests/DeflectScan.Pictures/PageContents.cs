using System.Text;
using System.Text.Json;
using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;

namespace DeflectScan.Pictures;

/// <summary>What the page shows in its pictures: a test photo, a series of rendered photos in which a guide is slid, a build with them. All of it goes in as a browser sends it.</summary>
internal sealed class PageContents : IDisposable
{
    private const string Photo = "clean-spinning";

    /// <summary>The series: one stand, guide 5 slid towards where it belongs.</summary>
    private static readonly (double OffMm, string Label)[] Steps = [(30, "first test"), (14, "guide 5 slid"), (0, "guide 5 slid again")];

    private readonly HttpClient _http;

    private PageContents(string address)
    {
        _http = new HttpClient { BaseAddress = new Uri(address), Timeout = TimeSpan.FromMinutes(10) };
        _http.DefaultRequestHeaders.Add("Origin", address.TrimEnd('/'));
    }

    /// <summary>The test photo's id.</summary>
    public string Single { get; private set; } = "";

    /// <summary>The series' last photo; it names the series, too.</summary>
    public string Last { get; private set; } = "";

    public string Build { get; private set; } = "";

    public static async Task<PageContents> Fill(string address)
    {
        PageContents all = new(address);
        string[] series = new string[Steps.Length];
        for (int i = 0; i < Steps.Length; i++)
        {
            SceneOptions scene = new() { Seed = 11, NoiseSeed = i, WidthPx = 2592, HeightPx = 1944, Moved = (5, Steps[i].OffMm) };
            series[i] = await all.Take(new Scene(scene).RenderJpeg(), $"rod-{i + 1}.jpg");
        }

        all.Last = series[^1];
        await all.Post($"/api/series/{all.Last}/target", "{\"mm\":5}");
        for (int i = 0; i < series.Length; i++)
            all.Build = Id(await all.Post($"/api/photos/{series[i]}/keep", $$"""{{{(i == 0 ? "\"name\":\"River 6 ft 9 in\"" : $"\"build\":\"{all.Build}\"")}},"label":"{{Steps[i].Label}}"}"""));
        string build = $"/api/builds/{all.Build}";
        await all.Post($"{build}/facts", """{"owner":"Anna","blank":"two-piece, 5 to 18 g","blank_length_mm":2050,"pieces":2,"reel_class":2500,"line":"braid 10 lb","use":"perch, jigs","spine_mark":"on top"}""");
        await all.Post($"{build}/facts", "{\"guides_as_measured\":true}");
        await all.Post($"{build}/layouts", "{\"name\":\"as measured\",\"from\":\"measured\"}");
        await all.Post($"{build}/notes", "{\"kind\":\"test-cast\",\"text\":\"Coils settle before guide 3; no slap up to 40 m.\"}");
        all.Single = await all.Take(await File.ReadAllBytesAsync(Path.Combine(Repository.TestImages, Photo, "photo.jpg")), "photo.jpg");
        return all;
    }

    public void Dispose() => _http.Dispose();

    /// <summary>An address with what stands here in it.</summary>
    public string Address(string pattern) => pattern.Replace("{id}", Single, StringComparison.Ordinal).Replace("{last}", Last, StringComparison.Ordinal).Replace("{build}", Build, StringComparison.Ordinal);

    private async Task<string> Take(byte[] photo, string name)
    {
        using ByteArrayContent bytes = new(photo);
        using HttpResponseMessage answer = await _http.PostAsync($"/api/photos?name={name}", bytes);
        answer.EnsureSuccessStatusCode();
        string id = Id(await answer.Content.ReadAsStringAsync()), stage;
        do
        {
            await Task.Delay(200);
            stage = JsonDocument.Parse(await _http.GetStringAsync($"/api/photos/{id}")).RootElement.GetProperty("stage").GetString()!;
        }
        while (stage is "waiting" or "measuring");
        return id;
    }

    private async Task<string> Post(string path, string json)
    {
        using StringContent content = new(json, Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await _http.PostAsync(path, content);
        string said = await answer.Content.ReadAsStringAsync();
        return answer.IsSuccessStatusCode ? said : throw new InvalidOperationException($"{path}: {said}");
    }

    private static string Id(string json) => JsonDocument.Parse(json).RootElement.GetProperty("id").GetString()!;
}
