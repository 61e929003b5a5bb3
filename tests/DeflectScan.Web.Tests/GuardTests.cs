using System.Net;

namespace DeflectScan.Web.Tests;

/// <summary>What another site, another name for this machine or a hostile client may not do.</summary>
[Collection(PageTests.Name)]
public class GuardTests(PageFixture page)
{
    private static async Task<HttpResponseMessage> Send(TestServer server, HttpMethod method, string path, params (string Name, string Value)[] headers)
    {
        using HttpClient plain = new() { BaseAddress = new Uri(server.Server.Address) };
        using HttpRequestMessage request = new(method, path);
        foreach ((string name, string value) in headers)
            request.Headers.TryAddWithoutValidation(name, value);
        return await plain.SendAsync(request);
    }

    [Theory]
    [InlineData("evil.example")]
    [InlineData("evil.example:80")]
    [InlineData("127.0.0.1.evil.example")]
    [InlineData("127.0.0.1:1")]
    public async Task AForeignNameForThisMachineIsRefused(string host)
    {
        // DNS rebinding: a foreign site's name is pointed at 127.0.0.1, and its script then is of the same origin.
        foreach (string path in new[] { "/", "/api/photos", "/js/app.js" })
            Assert.Equal(HttpStatusCode.MisdirectedRequest, (await Send(page.Server, HttpMethod.Get, path, ("Host", host))).StatusCode);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("null")]
    [InlineData("http://evil.example")]
    [InlineData("http://127.0.0.1")]
    public async Task AChangeFromElsewhereIsRefused(string? origin)
    {
        (string, string)[] headers = origin is null ? [] : [("Origin", origin)];
        foreach (string what in new[] { "aside", "undo", "cancel", "corrections" })
            Assert.Equal(HttpStatusCode.Forbidden, (await Send(page.Server, HttpMethod.Post, $"/api/photos/{page.Measured}/{what}", headers)).StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, (await Send(page.Server, HttpMethod.Post, "/api/photos?name=a.jpg", headers)).StatusCode);
    }

    [Theory]
    [InlineData("Sec-Fetch-Site", "cross-site")]
    [InlineData("Sec-Fetch-Site", "same-site")]
    [InlineData("Origin", "http://evil.example")]
    public async Task DataIsNotGivenToAnotherSite(string header, string value)
    {
        using HttpResponseMessage answer = await Send(page.Server, HttpMethod.Get, $"/api/photos/{page.Measured}/overview.jpg", (header, value));
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.DoesNotContain(answer.Headers, h => h.Key.StartsWith("Access-Control", StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public async Task EveryAnswerForbidsWhatThePageDoesNotNeed()
    {
        foreach (string path in new[] { "/", "/js/app.js", "/api/photos", "/nowhere" })
        {
            using HttpResponseMessage answer = await Send(page.Server, HttpMethod.Get, path);
            string policy = string.Join(';', answer.Headers.GetValues("Content-Security-Policy"));
            Assert.Contains("default-src 'none'", policy, StringComparison.Ordinal);
            Assert.Contains("frame-ancestors 'none'", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
            Assert.Equal("nosniff", Assert.Single(answer.Headers.GetValues("X-Content-Type-Options")));
            Assert.DoesNotContain(answer.Headers, h => h.Key is "Server" or "Set-Cookie");
        }
    }

    [Theory]
    [InlineData("/api/photos/..%2f..%2frecords.db")]
    [InlineData("/api/photos/%2e%2e/measurement/read.json")]
    [InlineData("/api/photos/ID/measurement/..%2f..%2fphoto.json")]
    [InlineData("/api/photos/ID/measurement/%2e%2e.json")]
    [InlineData("/api/photos/ID/tiles/99/0/0.jpg")]
    [InlineData("/api/photos/ID/tiles/0/999999999/0.jpg")]
    [InlineData("/api/photos/ID/tiles/-1/0/0.jpg")]
    [InlineData("/js/../../records.db")]
    [InlineData("/page/index.html")]
    public async Task PathsLeadNowhereElse(string path)
    {
        using HttpResponseMessage answer = await Send(page.Server, HttpMethod.Get, path.Replace("ID", page.Measured, StringComparison.Ordinal));
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("null")]
    [InlineData("{\"do\":\"explode\"}")]
    [InlineData("{\"do\":\"move\",\"guide\":99,\"x\":1,\"y\":1}")]
    [InlineData("{\"do\":\"move\",\"guide\":2,\"x\":1e300,\"y\":1}")]
    [InlineData("{\"do\":\"move\",\"guide\":2}")]
    [InlineData("{\"do\":\"remove\",\"guide\":8}")]
    public async Task ASenselessCorrectionIsRefusedInOneSentence(string json)
    {
        string before = (await page.Server.Photo(page.Measured)).GetRawText();
        using HttpResponseMessage answer = await page.Server.Correct(page.Measured, json);
        Assert.True((int)answer.StatusCode is 400 or 409, answer.StatusCode.ToString());
        Assert.Contains("\"sentence\":", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Equal(before, (await page.Server.Photo(page.Measured)).GetRawText());
    }

    [Fact]
    public async Task ALargeCorrectionIsNotRead()
    {
        using HttpResponseMessage answer = await page.Server.Correct(page.Measured, "{\"do\":\"" + new string('x', 100_000) + "\"}");
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
    }
}
