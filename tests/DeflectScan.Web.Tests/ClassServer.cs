using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using DeflectScan.Measuring;
using DeflectScan.Photos;
using DeflectScan.Scenes;
using DeflectScan.Web.Guarding;

namespace DeflectScan.Web.Tests;

/// <summary>A server with a class on it, measuring by a made-up engine that gives each photo the truth of a rendered rod.</summary>
public sealed class ClassServer : IAsyncDisposable
{
    private static readonly string[] Rods = ["clean-spinning", "students-few", "loads-light", "loads-deep", "wall-shadow"];

    private ClassServer(TestServer server, string id, string code) => (Server, Id, Code) = (server, id, code);

    public TestServer Server { get; }

    public string Id { get; }

    public string Code { get; }

    public static async Task<ClassServer> Start(string? folder = null, Func<ServeOptions, ServeOptions>? change = null)
    {
        TestServer server = await TestServer.Start(o => (change ?? (c => c))(o with { IsForPhones = true, Measure = Measure }), folder);
        using StringContent title = new("{\"title\":\"Saturday\"}", Encoding.UTF8, "application/json");
        using HttpResponseMessage made = await server.Http.PostAsync("/api/classes", title);
        Assert.Equal(HttpStatusCode.Created, made.StatusCode);
        string id = JsonDocument.Parse(await made.Content.ReadAsStringAsync()).RootElement.GetProperty("id").GetString()!;
        JsonElement board = JsonDocument.Parse(await server.Http.GetStringAsync($"/api/classes/{id}")).RootElement;
        return new ClassServer(server, id, board.GetProperty("code").GetString()!);
    }

    /// <summary>Photos whose first pixel row says which rod they are; the first of all is refused.</summary>
    public static MeasureRun Measure(string path, MeasureOptions options, IProgress<string> progress, CancellationToken cancel)
    {
        progress.Report("Opening the photo");
        byte[] bytes = File.ReadAllBytes(path);
        string sha256 = Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(bytes));
        int n = PhotoOpener.Open(bytes, "a", PhotoLimits.Default).Value is { } photo ? Number(photo) : 0;
        Measurement m = n == 0
            ? new Measurement("0.1.0", null, MeasurementStatus.Refused, [Findings.Finding.Refuse(Findings.FindingCode.CardMissing, "No scale card was found: print one.")], null, null, null, [], null, [], null, null)
            : TruthDocument.Of(Rods[n % Rods.Length]);
        m = m with { Photo = (m.Photo ?? TruthDocument.Of(Rods[0]).Photo!) with { Sha256 = sha256, FileName = Path.GetFileName(path) }, Guides = [.. m.Guides.Select(g => g with { RingPx = g.RingPx + new Geometry.Vec2(n, 0) })] };
        return new MeasureRun(m, null, null, null);
    }

    /// <summary>A small JPEG that says its number, and where it was taken.</summary>
    public static byte[] Photo(int number)
    {
        using OpenCvSharp.Mat picture = new(48, 64, OpenCvSharp.MatType.CV_8UC3, OpenCvSharp.Scalar.All(number * 4));
        OpenCvSharp.Cv2.ImEncode(".jpg", picture, out byte[] jpeg, [(int)OpenCvSharp.ImwriteFlags.JpegQuality, 100]);
        byte[] xmp = Encoding.ASCII.GetBytes("http://ns.adobe.com/xap/1.0/\0<x exif:GPSLatitude='48,8.2N'/>");
        return [0xFF, 0xD8, 0xFF, 0xE1, 0, (byte)(xmp.Length + 2), .. xmp, .. jpeg[2..]];
    }

    private static int Number(UprightPhoto photo)
    {
        using (photo)
            return (int)Math.Round(photo.Bgr.At<OpenCvSharp.Vec3b>(20, 20).Item0 / 4.0);
    }

    public async Task<JsonElement> Board() => JsonDocument.Parse(await Server.Http.GetStringAsync($"/api/classes/{Id}")).RootElement;

    public async Task Set(string json)
    {
        using StringContent content = new(json, Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await Server.Http.PostAsync($"/api/classes/{Id}", content);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
    }

    /// <summary>The board once every photo on it is measured.</summary>
    public async Task<JsonElement> Filled(int measured)
    {
        DateTime late = DateTime.UtcNow.AddMinutes(2);
        while (DateTime.UtcNow < late)
        {
            JsonElement board = await Board();
            if (board.GetProperty("rods").EnumerateArray().Count(r => r.GetProperty("standing").GetString() == "measured" || (r.TryGetProperty("stage", out JsonElement s) && s.GetString() == "done" && r.GetProperty("why").GetString() is not "Being measured.")) >= measured)
                return board;
            await Task.Delay(50);
        }

        throw new TimeoutException("The board did not fill within two minutes.");
    }

    public async ValueTask DisposeAsync() => await Server.DisposeAsync();
}

/// <summary>A student's phone of the same network.</summary>
public sealed class StudentPhone : IDisposable
{
    private readonly HttpClient _http;

    public StudentPhone(PageServer server)
    {
        IPAddress network = Invitation.OwnAddresses().FirstOrDefault() ?? throw new InvalidOperationException("This test needs a network interface besides the loopback one.");
        Uri own = new($"http://{network}:{new Uri(server.Address).Port}/");
        _http = new HttpClient(new HttpClientHandler { CookieContainer = Cookies }) { BaseAddress = own };
        _http.DefaultRequestHeaders.Add("Origin", own.ToString().TrimEnd('/'));
    }

    public CookieContainer Cookies { get; } = new();

    public async Task<HttpResponseMessage> Join(string code, string name)
    {
        using StringContent content = new(JsonSerializer.Serialize(new { code, name }), Encoding.UTF8, "application/json");
        return await _http.PostAsync("/api/join", content);
    }

    public async Task<HttpResponseMessage> Send(byte[] photo)
    {
        using ByteArrayContent content = new(photo);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        return await _http.PostAsync("/api/mine/photos", content);
    }

    public async Task<string> SendOne(byte[] photo)
    {
        using HttpResponseMessage answer = await Send(photo);
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.Created, text);
        return JsonDocument.Parse(text).RootElement.GetProperty("id").GetString()!;
    }

    public Task<HttpResponseMessage> Get(string path) => _http.GetAsync(path);

    public Task<HttpResponseMessage> Post(string path) => _http.PostAsync(path, null);

    public async Task<JsonElement> Mine() => JsonDocument.Parse(await _http.GetStringAsync("/api/mine")).RootElement;

    public void Dispose() => _http.Dispose();
}
