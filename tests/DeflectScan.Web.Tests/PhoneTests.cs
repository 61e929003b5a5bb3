using System.Net;
using System.Text;
using System.Text.Json;
using DeflectScan.Web.Guarding;

namespace DeflectScan.Web.Tests;

/// <summary>Who comes in over the network, and who does not.</summary>
public class PhoneTests
{
    private static readonly string[] Kept = ["/", "/api/photos", "/js/app.js", "/api/events", "/api/invitation", "/api/invitation.png", "/photo/0123456789abcdef"];

    private static IPAddress Network => Invitation.OwnAddresses().FirstOrDefault()
        ?? throw new InvalidOperationException("This test needs a network interface besides the loopback one.");

    private static HttpClient Over(IPAddress address, PageServer server, CookieContainer? cookies = null)
    {
        Uri own = new($"http://{address}:{new Uri(server.Address).Port}/");
        HttpClient client = new(new HttpClientHandler { CookieContainer = cookies ?? new CookieContainer() }) { BaseAddress = own };
        client.DefaultRequestHeaders.Add("Origin", own.ToString().TrimEnd('/'));
        return client;
    }

    private static async Task<HttpResponseMessage> Enter(HttpClient phone, string code)
    {
        using StringContent content = new(JsonSerializer.Serialize(new { code }), Encoding.UTF8, "application/json");
        return await phone.PostAsync("/api/enter", content);
    }

    private static async Task<string> Code(TestServer server) =>
        JsonDocument.Parse(await server.Http.GetStringAsync("/api/invitation")).RootElement.GetProperty("code").GetString()!;

    [Fact]
    public async Task WithoutLanNobodyReachesThePageOverTheNetwork()
    {
        await using TestServer server = await TestServer.Start();
        using HttpClient phone = Over(Network, server.Server);
        await Assert.ThrowsAsync<HttpRequestException>(() => phone.GetAsync("/"));
    }

    [Fact]
    public async Task APhoneWithoutTheCodeSeesTheDoorAlone()
    {
        await using TestServer server = await TestServer.Start(o => o with { IsForPhones = true });
        using HttpClient phone = Over(Network, server.Server);
        foreach (string path in Kept)
            Assert.Equal(HttpStatusCode.Unauthorized, (await phone.GetAsync(path)).StatusCode);
        using ByteArrayContent photo = new([1]);
        Assert.Equal(HttpStatusCode.Unauthorized, (await phone.PostAsync("/api/photos?name=a.jpg", photo)).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await phone.GetAsync("/enter")).StatusCode);
    }

    [Fact]
    public async Task ACodeLetsOnePhoneIn()
    {
        await using TestServer server = await TestServer.Start(o => o with { IsForPhones = true });
        CookieContainer cookies = new();
        using HttpClient phone = Over(Network, server.Server, cookies);
        string code = await Code(server);
        using HttpResponseMessage entered = await Enter(phone, code.ToLowerInvariant());
        Assert.Equal(HttpStatusCode.NoContent, entered.StatusCode);
        string cookie = Assert.Single(entered.Headers.GetValues("Set-Cookie"));
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Equal("[]", await phone.GetStringAsync("/api/photos"));
        Assert.Equal(HttpStatusCode.Forbidden, (await phone.GetAsync("/api/invitation")).StatusCode); // nor can it let others in

        using HttpClient second = Over(Network, server.Server);
        Assert.Equal(HttpStatusCode.Unauthorized, (await Enter(second, code)).StatusCode);
        Assert.NotEqual(code, await Code(server));
    }

    [Fact]
    public async Task TheNetworkAddressIsTheOnlyNameThere()
    {
        await using TestServer server = await TestServer.Start(o => o with { IsForPhones = true });
        using HttpClient phone = Over(Network, server.Server);
        foreach (string name in new[] { "evil.example", "localhost", "127.0.0.1" })
        {
            using HttpRequestMessage request = new(HttpMethod.Get, "/enter");
            request.Headers.Host = $"{name}:{new Uri(server.Server.Address).Port}";
            Assert.Equal(HttpStatusCode.MisdirectedRequest, (await phone.SendAsync(request)).StatusCode);
        }
    }

    [Fact]
    public void GuessingIsStopped()
    {
        Clock clock = new();
        Invitation invitation = new(clock);
        for (int i = 0; i < Invitation.MostWrong; i++)
            Assert.Equal((null, false), invitation.Enter($"0000000{i}"));
        Assert.Equal((null, true), invitation.Enter(invitation.Code)); // even the right one, for a minute
        clock.Now += TimeSpan.FromSeconds(61);
        Assert.NotNull(invitation.Enter(invitation.Code).Token);
        Assert.False(invitation.IsGuest(new string('0', 64)));
        Assert.False(invitation.IsGuest(null));
    }

    [Fact]
    public void CodesAreNotAlike() =>
        Assert.Equal(1000, Enumerable.Range(0, 1000).Select(_ => new Invitation(TimeProvider.System).Code).Distinct(StringComparer.Ordinal).Count());

    private sealed class Clock : TimeProvider
    {
        public DateTimeOffset Now { get; set; } = new(2026, 5, 2, 10, 0, 0, TimeSpan.Zero);

        public override DateTimeOffset GetUtcNow() => Now;
    }
}
