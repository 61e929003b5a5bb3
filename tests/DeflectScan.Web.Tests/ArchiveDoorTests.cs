using System.Net;
using System.Text;
using System.Text.Json;
using DeflectScan.Web.Routes;
using Microsoft.AspNetCore.Http;

namespace DeflectScan.Web.Tests;

/// <summary>The archive through the page: what it refuses is the person's to mend, what is a fault of the program is never said to be theirs.</summary>
[Collection(PageTests.Name)]
public class ArchiveDoorTests(PageFixture page)
{
    [Fact]
    public async Task AFaultOfTheProgramIsNotTakenForBadInput()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        int changed = 0;
        using ArchiveDoor door = new(kept.Server.Folder, () => changed++);
        DefaultHttpContext http = new();
        await Assert.ThrowsAsync<InvalidOperationException>(() => door.Read(http, _ => throw new InvalidOperationException("Sequence contains no elements.")));
        await Assert.ThrowsAsync<InvalidOperationException>(() => door.Write(http, _ => throw new InvalidOperationException("Sequence contains no elements.")));
        Assert.Equal(0, changed);
        Assert.Equal(StatusCodes.Status200OK, http.Response.StatusCode); // not answered here
    }

    [Theory]
    [InlineData("notes", "{\"text\":\"x\",\"kind\":7}")]
    [InlineData("notes", "{\"text\":[\"x\"]}")]
    [InlineData("notes", "{\"text\":\"x\",\"text\":\"y\"}")]
    [InlineData("facts", "{\"guides_as_measured\":\"yes\"}")]
    [InlineData("facts", "{\"pieces\":\"two\"}")]
    [InlineData("facts", "{\"guides\":[7]}")]
    [InlineData("start", "{\"reduction\":2.5}")]
    [InlineData("start", "{\"reel_to_tip_mm\":\"far\"}")]
    [InlineData("layouts", "{\"name\":{}}")]
    [InlineData("choose", "{\"layout\":5}")]
    public async Task AMemberOfAnotherKindIsRefusedInOneSentence(string what, string json)
    {
        await using KeptServer kept = await KeptServer.Start(page);
        (HttpStatusCode status, string said) = await Post(kept, $"/api/builds/{kept.Build}/{what}", json);
        Assert.Equal(HttpStatusCode.BadRequest, status);
        Assert.EndsWith(".", JsonDocument.Parse(said).RootElement.GetProperty("sentence").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task ANewBuildCannotTakeAnothersName()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        (HttpStatusCode status, string said) = await Post(kept, "/api/builds", "{\"name\":\"River 7 ft\"}");
        Assert.Equal(HttpStatusCode.Conflict, status);
        string sentence = JsonDocument.Parse(said).RootElement.GetProperty("sentence").GetString()!;
        Assert.Contains("\"River 7 ft\" already", sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("--", sentence, StringComparison.Ordinal); // nobody can type an option on the page
        Assert.Equal(1, JsonDocument.Parse(await kept.Server.Http.GetStringAsync("/api/builds")).RootElement.GetProperty("count").GetInt32());
    }

    private static async Task<(HttpStatusCode Status, string Said)> Post(KeptServer kept, string path, string json)
    {
        using StringContent content = new(json, Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await kept.Server.Http.PostAsync(path, content);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync());
    }
}
