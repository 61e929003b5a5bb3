using System.Diagnostics;
using System.Globalization;
using System.Net.Http.Json;
using System.Security.Cryptography;
using System.Text.Json;
using DeflectScan.Nightly.Archives;
using DeflectScan.Web.Correcting;
using DeflectScan.Web.Measuring;

namespace DeflectScan.Nightly.Pages;

/// <summary>What the kills showed: faults, one line each, and what had been acknowledged and was looked for after every later kill.</summary>
internal sealed record PageKillResult(IReadOnlyList<string> Faults, int Photos, int Corrections, int Builds, int Targets, int Unmeasured);

/// <summary>
/// The page's server is killed (SIGKILL) at a random moment, again and again on one archive, while photos arrive, rings are dragged, targets are set and builds
/// made: after the restart every acknowledged photo, correction, target and build is there, and what was not measured is measured.
/// </summary>
internal sealed class PageKill : IDisposable
{
    /// <summary>Longest time from the first acknowledgement to the kill, ms.</summary>
    private const int LongestMs = 500;

    private readonly Scratch _scratch = new();
    private readonly Random _random;
    private readonly Dictionary<string, string> _photos = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<double>> _corrections = new(StringComparer.Ordinal);
    private readonly List<string> _builds = [];
    private readonly Dictionary<string, double> _targets = new(StringComparer.Ordinal);
    private readonly List<string> _faults = [];
    private int _number;
    private int _unmeasured;

    private PageKill(int seed) => _random = new Random(seed);

    private string Folder => _scratch["archive"];

    public static async Task<PageKillResult> Run(int seed, int count)
    {
        using PageKill campaign = new(seed);
        for (int i = 0; i < count; i++)
            await campaign.Once(i);
        await campaign.Check("at the end");
        return new PageKillResult(
            campaign._faults, campaign._photos.Count, campaign._corrections.Values.Sum(c => c.Count), campaign._builds.Count, campaign._targets.Count, campaign._unmeasured);
    }

    public void Dispose() => _scratch.Dispose();

    private async Task Once(int kill)
    {
        using Process server = Start(kill);
        using HttpClient http = await Client(server);
        await LookAt(http, $"after kill {kill}");
        (TaskCompletionSource first, TaskCompletionSource built) = (new(TaskCreationOptions.RunContinuationsAsynchronously), new(TaskCreationOptions.RunContinuationsAsynchronously));
        Task[] work = [Guarded(() => Send(http, first)), Guarded(() => Send(http, first)), Guarded(() => Drag(http)), Guarded(() => MakeBuilds(http, built)), Guarded(() => SetTargets(http))];
        // Every other kill falls after the first build, whose code takes its time to compile.
        await Task.WhenAny(kill % 2 == 0 ? first.Task : built.Task, Task.Delay(20_000));
        await Task.Delay(_random.Next(LongestMs));
        server.Kill();
        await server.WaitForExitAsync();
        await Task.WhenAll(work);
    }

    private async Task Check(string when)
    {
        using Process server = Start(-1);
        using HttpClient http = await Client(server);
        await LookAt(http, when);
        server.Kill();
        await server.WaitForExitAsync();
    }

    private Process Start(int seed) => Process.Start(
        new ProcessStartInfo("dotnet", [typeof(PageKill).Assembly.Location, "page-worker", Folder, "--seed", seed.ToString(CultureInfo.InvariantCulture)])
        {
            UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true,
        })!;

    private static async Task<HttpClient> Client(Process server)
    {
        string address = await server.StandardOutput.ReadLineAsync() ?? throw new InvalidOperationException($"The server failed by itself: {await server.StandardError.ReadToEndAsync()}");
        HttpClient http = new() { BaseAddress = new Uri(address), Timeout = TimeSpan.FromMinutes(3) };
        http.DefaultRequestHeaders.Add("Origin", address.TrimEnd('/'));
        return http;
    }

    /// <summary>Does something over and over until the server is gone.</summary>
    private static async Task Guarded(Func<Task> work)
    {
        try
        {
            while (true)
                await work();
        }
        catch (Exception e) when (e is HttpRequestException or IOException or TaskCanceledException or JsonException)
        {
            // It was killed; what was not answered was not acknowledged.
        }
    }

    private async Task Send(HttpClient http, TaskCompletionSource first)
    {
        byte[] bytes = new byte[20_000];
        int number = Interlocked.Increment(ref _number);
        new Random(number).NextBytes(bytes);
        using ByteArrayContent content = new(bytes);
        using HttpResponseMessage answer = await http.PostAsync($"/api/photos?name={number}.jpg", content);
        if (!answer.IsSuccessStatusCode)
            return;
        string id = (await answer.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("id").GetString()!;
        lock (_photos)
            _photos[id] = Convert.ToHexStringLower(SHA256.HashData(bytes));
        first.TrySetResult();
    }

    private async Task Drag(HttpClient http)
    {
        string? id;
        lock (_photos)
            id = _photos.Count == 0 ? null : _photos.Keys.ElementAt(Random.Shared.Next(_photos.Count));
        if (id is null)
        {
            await Task.Delay(10);
            return;
        }

        double x = 1000 + (0.25 * Interlocked.Increment(ref _number));
        using HttpResponseMessage answer = await http.PostAsJsonAsync($"/api/photos/{id}/corrections", new { @do = "move", guide = 1, x, y = 900.5 });
        if (!answer.IsSuccessStatusCode)
            return;
        lock (_photos)
        {
            if (!_corrections.TryGetValue(id, out List<double>? list))
                _corrections[id] = list = [];
            list.Add(x);
        }
    }

    private async Task MakeBuilds(HttpClient http, TaskCompletionSource built)
    {
        using HttpResponseMessage answer = await http.PostAsJsonAsync("/api/builds", new { name = $"Build {Interlocked.Increment(ref _number)}" });
        if (answer.IsSuccessStatusCode)
        {
            string id = (await answer.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("id").GetString()!;
            lock (_photos)
                _builds.Add(id);
            built.TrySetResult();
        }
    }

    private async Task SetTargets(HttpClient http)
    {
        await Task.Delay(30);
        JsonElement series = await http.GetFromJsonAsync<JsonElement>("/api/series");
        if (series.GetArrayLength() == 0)
            return;
        string id = series[Random.Shared.Next(series.GetArrayLength())].GetProperty("id").GetString()!;
        double mm = 1 + (Interlocked.Increment(ref _number) % 90);
        lock (_photos)
            _targets.Remove(id);
        using HttpResponseMessage answer = await http.PostAsJsonAsync($"/api/series/{id}/target", new { mm });
        lock (_photos)
        {
            if (answer.IsSuccessStatusCode)
                _targets[id] = mm;
        }
    }

    private async Task LookAt(HttpClient http, string when)
    {
        JsonElement list = await http.GetFromJsonAsync<JsonElement>("/api/photos");
        Dictionary<string, JsonElement> there = list.EnumerateArray().ToDictionary(p => p.GetProperty("id").GetString()!);
        foreach ((string id, string sha256) in _photos)
        {
            string original = Path.Combine(Folder, "bench", id, "original");
            if (!there.TryGetValue(id, out JsonElement view))
                _faults.Add($"{when}: an acknowledged photo is gone: {id}");
            else if (Convert.ToHexStringLower(SHA256.HashData(await File.ReadAllBytesAsync(Directory.EnumerateFiles(original).Single()))) != sha256)
                _faults.Add($"{when}: a photo's bytes are others: {id}");
            else if (view.GetProperty("stage").GetString() is "waiting" or "measuring")
                _unmeasured++;
        }

        foreach ((string id, List<double> xs) in _corrections)
        {
            string[] lines = await File.ReadAllLinesAsync(Path.Combine(Folder, "bench", id, "marks.jsonl"));
            foreach (double x in xs.Where(x => !lines.Any(l => l.Contains(string.Create(CultureInfo.InvariantCulture, $"[{x},900.5]"), StringComparison.Ordinal))))
                _faults.Add($"{when}: an acknowledged correction is gone: {id} {x}");
        }

        foreach (string id in _builds)
        {
            using HttpResponseMessage answer = await http.GetAsync($"/api/builds/{id}");
            if (!answer.IsSuccessStatusCode)
                _faults.Add($"{when}: an acknowledged build is gone: {id}");
        }

        await Measured(http, when);
        foreach ((string id, double mm) in _targets)
        {
            using HttpResponseMessage answer = await http.GetAsync($"/api/series/{id}");
            if (answer.IsSuccessStatusCode && (await answer.Content.ReadFromJsonAsync<JsonElement>()).GetProperty("target_mm").GetDouble() != mm)
                _faults.Add($"{when}: a target is another: {id}");
        }
    }

    /// <summary>What was not measured is measured, with the marks that the log holds.</summary>
    private async Task Measured(HttpClient http, string when)
    {
        long start = Stopwatch.GetTimestamp();
        List<string> late = [];
        do
        {
            JsonElement list = await http.GetFromJsonAsync<JsonElement>("/api/photos");
            late = [.. list.EnumerateArray().Where(p => p.GetProperty("stage").GetString() != "done"
                || p.GetProperty("key").GetString() != BenchPhoto.KeyOf(MarksLog.Open(Path.Combine(Folder, "bench", p.GetProperty("id").GetString()!, "marks.jsonl")).Now.Marks)).Select(p => p.GetProperty("id").GetString()!)];
            if (late.Count > 0)
                await Task.Delay(50);
        }
        while (late.Count > 0 && Stopwatch.GetElapsedTime(start) < TimeSpan.FromMinutes(2));
        _faults.AddRange(late.Select(id => $"{when}: not measured: {id}"));
    }
}
