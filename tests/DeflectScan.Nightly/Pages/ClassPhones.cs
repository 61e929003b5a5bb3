using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using DeflectScan.Scenes;
using DeflectScan.Web.Guarding;
using OpenCvSharp;

namespace DeflectScan.Nightly.Pages;

/// <summary>Thirty phones, real HTTP clients, send a photo each within a second: how long until all are measured, whether none is lost, how the board answers meanwhile.</summary>
/// <param name="phones">How many.</param>
/// <param name="program">The program as it is installed, whose server is asked; null: this build's own, which compiles as it runs.</param>
internal sealed class ClassPhones(int phones, string? program = null)
{
    private static readonly string[] Photos = ["clean-spinning", "wall-shadow", "yaw12", "thin-braid", "clutter-bench", "casting-top", "rotated-exif", "one-card"];
    private readonly List<double> _boardMs = [];
    private long _mostRssKb;

    /// <param name="folder">For the archive.</param>
    /// <param name="kill">SIGKILL the server as soon as so many photos are acknowledged, and start it again; null: let it live.</param>
    public async Task<int> Run(string folder, int? kill)
    {
        byte[][] photos = [.. Enumerable.Range(0, phones).Select(Photo)];
        Process server = Start(folder);
        HttpClient own = await Client(server);
        string code = await Make(own);
        HttpClient[] clients = [.. await Task.WhenAll(Enumerable.Range(1, phones).Select(i => Join(own.BaseAddress!.Port, code, i)))];
        using CancellationTokenSource end = new();
        Task watch = Watch(server, own, end.Token);
        long start = Stopwatch.GetTimestamp();
        List<string> acknowledged = [];
        TaskCompletionSource enough = new(TaskCreationOptions.RunContinuationsAsynchronously);
        Task[] sends = [.. clients.Select((c, i) => Send(c, photos[i], i * 1000 / phones, acknowledged, kill ?? int.MaxValue, enough))];
        if (kill is not null)
        {
            await enough.Task;
            server.Kill();
            await server.WaitForExitAsync();
        }

        await Task.WhenAll(sends);
        Console.WriteLine($"{acknowledged.Count} of {phones} photos acknowledged in {Stopwatch.GetElapsedTime(start).TotalSeconds:0.0} s");
        if (kill is not null)
        {
            server = Start(folder);
            own = await Client(server);
        }

        int measured = await Measured(own, acknowledged.Count);
        double seconds = Stopwatch.GetElapsedTime(start).TotalSeconds;
        await end.CancelAsync();
        await watch;
        _boardMs.Sort();
        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{measured} of {acknowledged.Count} acknowledged photos measured {seconds:0.0} s after the first was sent ({seconds / phones:0.00} s a photo); board asked {_boardMs.Count} times: median {Share(0.5):0} ms, 95 % within {Share(0.95):0} ms, longest {Share(1):0} ms; peak memory {_mostRssKb / 1000.0:0} MB; processor {server.TotalProcessorTime.TotalSeconds:0.0} s ({server.TotalProcessorTime.TotalSeconds / phones:0.00} s a photo)"));
        server.Kill();
        await server.WaitForExitAsync();
        return measured == acknowledged.Count && acknowledged.Count > 0 && (kill is not null || acknowledged.Count == phones) ? 0 : 1;
    }

    private double Share(double share) => _boardMs.Count == 0 ? double.NaN : _boardMs[Math.Min(_boardMs.Count - 1, (int)(share * _boardMs.Count))];

    /// <summary>Test photos at their 12 megapixels, each a little darker than the one before, so that no two are the same file.</summary>
    private static byte[] Photo(int i)
    {
        byte[] file = File.ReadAllBytes(Path.Combine(Repository.TestImages, Photos[i % Photos.Length], "photo.jpg"));
        if (i < Photos.Length)
            return file;
        using Mat picture = Cv2.ImDecode(file, ImreadModes.Color);
        using Mat darker = picture - Scalar.All(i / Photos.Length);
        Cv2.ImEncode(".jpg", darker, out byte[] bytes, [(int)ImwriteFlags.JpegQuality, 95]);
        return bytes;
    }

    private Process Start(string folder)
    {
        (string file, string[] words) = program is null ? ("dotnet", [typeof(ClassPhones).Assembly.Location, "class-worker", folder]) : (program, (string[])["serve", "--archive", folder, "--port", "0", "--lan", "--no-browser"]);
        Process server = Process.Start(new ProcessStartInfo(file, words) { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true })!;
        return server;
    }

    private static async Task<HttpClient> Client(Process server)
    {
        string address = await server.StandardOutput.ReadLineAsync() ?? throw new InvalidOperationException($"The server failed by itself: {await server.StandardError.ReadToEndAsync()}");
        HttpClient http = new() { BaseAddress = new Uri(address), Timeout = TimeSpan.FromMinutes(5) };
        http.DefaultRequestHeaders.Add("Origin", address.TrimEnd('/'));
        return http;
    }

    private static async Task<string> Make(HttpClient http)
    {
        using HttpResponseMessage made = await http.PostAsJsonAsync("/api/classes", new { title = "Thirty" });
        string id = (await made.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("id").GetString()!;
        return (await http.GetFromJsonAsync<JsonElement>($"/api/classes/{id}")).GetProperty("code").GetString()!;
    }

    private static async Task<HttpClient> Join(int port, string code, int number)
    {
        string address = $"http://{Invitation.OwnAddresses().FirstOrDefault() ?? IPAddress.Loopback}:{port}/";
        HttpClient phone = new(new HttpClientHandler { CookieContainer = new CookieContainer() }) { BaseAddress = new Uri(address), Timeout = TimeSpan.FromMinutes(5) };
        phone.DefaultRequestHeaders.Add("Origin", address.TrimEnd('/'));
        using HttpResponseMessage joined = await phone.PostAsJsonAsync("/api/join", new { code, name = $"Student {number}" });
        joined.EnsureSuccessStatusCode();
        return phone;
    }

    private static async Task Send(HttpClient phone, byte[] photo, int afterMs, List<string> acknowledged, int kill, TaskCompletionSource enough)
    {
        await Task.Delay(afterMs);
        try
        {
            using ByteArrayContent content = new(photo);
            using HttpResponseMessage answer = await phone.PostAsync("/api/mine/photos", content);
            if (!answer.IsSuccessStatusCode)
            {
                Console.WriteLine($"refused: {await answer.Content.ReadAsStringAsync()}");
                return;
            }

            string id = (await answer.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("id").GetString()!;
            lock (acknowledged)
            {
                acknowledged.Add(id);
                if (acknowledged.Count >= kill)
                    enough.TrySetResult();
            }
        }
        catch (Exception e) when (e is HttpRequestException or IOException or JsonException)
        {
            // The server was killed; what was not answered was not acknowledged.
        }
    }

    /// <summary>How many photos of the class are measured at last.</summary>
    private static async Task<int> Measured(HttpClient http, int wanted)
    {
        long start = Stopwatch.GetTimestamp();
        int measured = 0;
        string id = (await http.GetFromJsonAsync<JsonElement>("/api/classes"))[0].GetProperty("id").GetString()!;
        while (measured < wanted && Stopwatch.GetElapsedTime(start) < TimeSpan.FromMinutes(6))
        {
            await Task.Delay(100);
            JsonElement board = await http.GetFromJsonAsync<JsonElement>($"/api/classes/{id}");
            measured = board.GetProperty("rods").EnumerateArray().Count(r => r.TryGetProperty("stage", out JsonElement stage) && stage.GetString() == "done");
        }

        return measured;
    }

    private async Task Watch(Process server, HttpClient http, CancellationToken end)
    {
        try
        {
            string id = (await http.GetFromJsonAsync<JsonElement>("/api/classes", end))[0].GetProperty("id").GetString()!;
            while (!end.IsCancellationRequested)
            {
                long start = Stopwatch.GetTimestamp();
                using HttpResponseMessage answer = await http.GetAsync($"/api/classes/{id}", end);
                await answer.Content.ReadAsByteArrayAsync(end);
                _boardMs.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
                string status = await File.ReadAllTextAsync($"/proc/{server.Id}/status", end);
                string line = status.Split('\n').First(l => l.StartsWith("VmHWM", StringComparison.Ordinal));
                _mostRssKb = Math.Max(_mostRssKb, long.Parse(new string([.. line.Where(char.IsAsciiDigit)]), CultureInfo.InvariantCulture));
                await Task.Delay(200, end);
            }
        }
        catch (Exception e) when (e is OperationCanceledException or HttpRequestException or IOException)
        {
            // All is measured, or the server was killed.
        }
    }
}
