using System.Net.Http.Headers;
using System.Text.Json;
using DeflectScan.Scenes;

namespace DeflectScan.Web.Tests;

/// <summary>A server with an archive of its own, and the requests that its page makes.</summary>
public sealed class TestServer : IAsyncDisposable
{
    private readonly bool _ownsFolder;

    private TestServer(PageServer server, string folder, bool ownsFolder)
    {
        (Server, Folder, _ownsFolder) = (server, folder, ownsFolder);
        Http = new HttpClient { BaseAddress = new Uri(server.Address), Timeout = TimeSpan.FromMinutes(5) };
        Http.DefaultRequestHeaders.Add("Origin", server.Address.TrimEnd('/'));
    }

    /// <summary>The page's files in the checkout, for work on them without building anew; the tests look at those in the assembly.</summary>
    private static string? WorkedOn => Environment.GetEnvironmentVariable("DEFLECTSCAN_PAGE");

    public PageServer Server { get; }

    public string Folder { get; }

    public HttpClient Http { get; }

    public static async Task<TestServer> Start(Func<ServeOptions, ServeOptions>? change = null, string? folder = null)
    {
        string place = folder ?? Path.Combine(Path.GetTempPath(), "deflectscan-page-" + Path.GetRandomFileName());
        ServeOptions options = new(place, 0, MeasureOptions.Default) { PageFolder = WorkedOn };
        return new TestServer(await PageServer.Start(change is null ? options : change(options)), place, folder is null);
    }

    /// <summary>A server of one's own that has the shared one's measured photo already.</summary>
    public static async Task<TestServer> WithMeasured(PageFixture page)
    {
        string folder = Path.Combine(Path.GetTempPath(), "deflectscan-page-" + Path.GetRandomFileName());
        Records.Archive.Create(folder);
        string from = Path.Combine(page.Server.Folder, "bench", page.Measured);
        foreach (string file in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            string to = Path.Combine(folder, "bench", page.Measured, Path.GetRelativePath(from, file));
            Directory.CreateDirectory(Path.GetDirectoryName(to)!);
            File.Copy(file, to);
        }

        return new TestServer(await PageServer.Start(new ServeOptions(folder, 0, MeasureOptions.Default) { PageFolder = WorkedOn }), folder, ownsFolder: true);
    }

    public static string TestPhoto(string name) => Path.Combine(Repository.TestImages, name, "photo.jpg");

    public async Task<HttpResponseMessage> Upload(byte[] bytes, string name)
    {
        using ByteArrayContent content = new(bytes);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/octet-stream");
        return await Http.PostAsync($"/api/photos?name={Uri.EscapeDataString(name)}", content);
    }

    public async Task<string> UploadOf(byte[] bytes, string name)
    {
        using HttpResponseMessage answer = await Upload(bytes, name);
        Assert.True(answer.IsSuccessStatusCode, await answer.Content.ReadAsStringAsync());
        return JsonDocument.Parse(await answer.Content.ReadAsStringAsync()).RootElement.GetProperty("id").GetString()!;
    }

    public async Task<JsonElement> Photo(string id) => JsonDocument.Parse(await Http.GetStringAsync($"/api/photos/{id}")).RootElement;

    /// <summary>The photo once nothing is going on with it any more.</summary>
    public async Task<JsonElement> Settled(string id)
    {
        DateTime late = DateTime.UtcNow.AddMinutes(4);
        while (DateTime.UtcNow < late)
        {
            JsonElement photo = await Photo(id);
            if (photo.GetProperty("stage").GetString() is not ("waiting" or "measuring"))
                return photo;
            await Task.Delay(50);
        }

        throw new TimeoutException("The photo was not measured within four minutes.");
    }

    public async Task<HttpResponseMessage> Correct(string id, string json)
    {
        using StringContent content = new(json, System.Text.Encoding.UTF8, "application/json");
        return await Http.PostAsync($"/api/photos/{id}/corrections", content);
    }

    public async Task Tell(string id, string what)
    {
        using HttpResponseMessage answer = await Http.PostAsync($"/api/photos/{id}/{what}", null);
        answer.EnsureSuccessStatusCode();
    }

    public async ValueTask DisposeAsync()
    {
        Http.Dispose();
        await Server.DisposeAsync();
        if (_ownsFolder)
            Directory.Delete(Folder, recursive: true);
    }
}

/// <summary>One server for the tests that only look: a measured photo and one that is refused.</summary>
public sealed class PageFixture : IAsyncLifetime
{
    public TestServer Server { get; private set; } = null!;

    /// <summary>testimages/clean-spinning, measured.</summary>
    public string Measured { get; private set; } = "";

    /// <summary>testimages/bad-no-card, refused.</summary>
    public string Refused { get; private set; } = "";

    public async Task InitializeAsync()
    {
        Server = await TestServer.Start();
        Measured = await Server.UploadOf(await File.ReadAllBytesAsync(TestServer.TestPhoto("clean-spinning")), "photo.jpg");
        Refused = await Server.UploadOf(await File.ReadAllBytesAsync(TestServer.TestPhoto("bad-no-card")), "no-card.jpg");
        await Server.Settled(Measured);
        await Server.Settled(Refused);
    }

    public async Task DisposeAsync() => await Server.DisposeAsync();
}

/// <summary>The tests that share <see cref="PageFixture"/>; they run one after the other.</summary>
[CollectionDefinition(Name)]
public sealed class PageTests : ICollectionFixture<PageFixture>, ICollectionFixture<BrowserFixture>
{
    public const string Name = "page";
}
