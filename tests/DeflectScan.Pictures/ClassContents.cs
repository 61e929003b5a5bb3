using System.Net;
using System.Text;
using System.Text.Json;
using DeflectScan.Scenes;
using DeflectScan.Teaching;

namespace DeflectScan.Pictures;

/// <summary>A class as its pictures show it: the demo's rods under invented names, sent as phones send them.</summary>
internal sealed class ClassContents
{
    private ClassContents(string id, string code, IReadOnlyDictionary<string, Cookie> phones) => (Id, Code, Phones) = (id, code, phones);

    public string Id { get; }

    public string Code { get; }

    /// <summary>What each student's phone holds.</summary>
    public IReadOnlyDictionary<string, Cookie> Phones { get; }

    public static async Task<ClassContents> Fill(string address)
    {
        using HttpClient own = Client(address, new CookieContainer());
        JsonElement made = await Post(own, "/api/classes", "{\"title\":\"Saturday, guides\"}");
        string id = made.GetProperty("id").GetString()!, code = (await Get(own, $"/api/classes/{id}")).GetProperty("code").GetString()!;
        Dictionary<string, Cookie> phones = [];
        foreach (HandedIn student in DemoClass.In(Repository.TestImages)!)
        {
            CookieContainer cookies = new();
            using HttpClient phone = Client(address, cookies);
            await Post(phone, "/api/join", JsonSerializer.Serialize(new { code, name = student.Student }));
            phones[student.Student] = cookies.GetCookies(new Uri(address))[0];
            using ByteArrayContent photo = new(await File.ReadAllBytesAsync(student.Photos[0]));
            using HttpResponseMessage sent = await phone.PostAsync("/api/mine/photos", photo);
            sent.EnsureSuccessStatusCode();
        }

        await Post(own, $"/api/classes/{id}", "{\"target\":6,\"boardShown\":true}");
        while ((await Get(own, $"/api/classes/{id}")).GetProperty("rods").EnumerateArray().Any(r => !r.TryGetProperty("stage", out JsonElement stage) || stage.GetString() is "waiting" or "measuring" || r.GetProperty("why").GetString() == "Being measured."))
            await Task.Delay(300);
        return new ClassContents(id, code, phones);
    }

    private static HttpClient Client(string address, CookieContainer cookies)
    {
        HttpClient http = new(new HttpClientHandler { CookieContainer = cookies }) { BaseAddress = new Uri(address), Timeout = TimeSpan.FromMinutes(10) };
        http.DefaultRequestHeaders.Add("Origin", address.TrimEnd('/'));
        return http;
    }

    private static async Task<JsonElement> Get(HttpClient http, string path) => JsonDocument.Parse(await http.GetStringAsync(path)).RootElement;

    private static async Task<JsonElement> Post(HttpClient http, string path, string json)
    {
        using StringContent content = new(json, Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await http.PostAsync(path, content);
        string said = await answer.Content.ReadAsStringAsync();
        return answer.IsSuccessStatusCode ? JsonDocument.Parse(said).RootElement : throw new InvalidOperationException($"{path}: {said}");
    }
}
