using System.Globalization;
using System.Net;
using System.Text;
using System.Text.Json;
using DeflectScan.Records;

namespace DeflectScan.Web.Tests;

/// <summary>A proof kept with a build from the page is the command line's: the same rows, the same sums.</summary>
[Collection(PageTests.Name)]
public class ProofKeptTests(PageFixture page)
{
    [Fact]
    public async Task AProofIsKeptWithABuildThatHasThePhoto()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        string photo = kept.Photos[2], key = (await kept.Server.Photo(photo)).GetProperty("key").GetString()!;
        string proof = $"/api/photos/{photo}/proof/{key}";
        JsonElement builds = JsonDocument.Parse(await kept.Server.Http.GetStringAsync($"{proof}/builds")).RootElement.GetProperty("builds");
        Assert.Equal(kept.Build, Assert.Single(builds.EnumerateArray()).GetProperty("id").GetString());
        using (ArchiveReader before = Archive.OpenForReading(kept.Server.Folder))
            Assert.Equal(3, Assert.Single(before.ProvedSets()).Readings); // the one that was there

        double[] stations = [.. (await Document(kept, photo, key)).GetProperty("guides").EnumerateArray().Select(g => g.GetProperty("station_mm").GetDouble())];
        string readings = string.Join(',', stations.Take(5).Select((s, i) => string.Create(CultureInfo.InvariantCulture, $"{{\"what\":\"station\",\"from\":{i + 1},\"to\":null,\"reading\":\"{s + (i == 1 ? 100 : 0):0.0}\",\"within\":\"1\"}}")));
        JsonElement view = await Posted(kept, $"{proof}/keep", $"{{\"build\":\"{kept.Build}\",\"readings\":[{readings}]}}", HttpStatusCode.OK);
        JsonElement shown = view.GetProperty("proofs")[1];
        Assert.Equal(("disagree", "slip_of_the_pen", 5), (shown.GetProperty("verdict").GetString(), shown.GetProperty("cause").GetString(), shown.GetProperty("readings").GetInt32()));

        using ArchiveReader reader = Archive.OpenForReading(kept.Server.Folder);
        Records.Model.StoredProof stored = reader.Build(kept.Build)!.Proofs[^1];
        Assert.Equal(reader.Build(kept.Build)!.Measurements[^1].Id, stored.MeasurementId);
        Assert.Equal(stations[1] + 100, stored.Readings[1].Reading.Mm, 0.051);
        Records.Model.ProvedSet set = Assert.Single(reader.ProvedSets());
        Assert.Equal((2, 8, 1, false), (set.Proofs, set.Readings, set.Disagreeing, set.IsProved)); // as records proof shows it
    }

    [Fact]
    public async Task WhatCannotBeKeptIsSaidAndNothingIsAdded()
    {
        await using KeptServer kept = await KeptServer.Start(page);
        string photo = kept.Photos[0], key = (await kept.Server.Photo(photo)).GetProperty("key").GetString()!;
        string proof = $"/api/photos/{photo}/proof/{key}";
        Assert.Contains("\"builds\":[]", await kept.Server.Http.GetStringAsync($"{proof}/builds"), StringComparison.Ordinal);
        const string Reading = "{\"what\":\"station\",\"from\":1,\"to\":null,\"reading\":\"1200\",\"within\":\"\"}";
        Assert.Contains("keep the photo with it first", await Refused(kept, $"{proof}/keep", $"{{\"build\":\"{kept.Build}\",\"readings\":[{Reading}]}}", HttpStatusCode.Conflict), StringComparison.Ordinal);
        Assert.Contains("at least one reading", await Refused(kept, $"{proof}/keep", $"{{\"build\":\"{kept.Build}\",\"readings\":[]}}", HttpStatusCode.BadRequest), StringComparison.Ordinal);
        await Refused(kept, $"{proof}/keep", $"{{\"build\":\"nobody's\",\"readings\":[{Reading}]}}", HttpStatusCode.Conflict);
        await Refused(kept, proof, "{\"readings\":[7]}", HttpStatusCode.Conflict);
        await Refused(kept, proof, "{\"readings\":[{\"what\":5}]}", HttpStatusCode.BadRequest);
        Assert.Contains("At most 400", await Refused(kept, proof, $"{{\"readings\":[{string.Join(',', Enumerable.Repeat(Reading, 401))}]}}", HttpStatusCode.Conflict), StringComparison.Ordinal);
        using HttpResponseMessage many = await Send(kept, proof, $"{{\"readings\":[{string.Join(',', Enumerable.Repeat(Reading, 300))}]}}"); // several of the same thing are put together
        Assert.Equal(HttpStatusCode.OK, many.StatusCode);
        using ArchiveReader reader = Archive.OpenForReading(kept.Server.Folder);
        Assert.Single(reader.Build(kept.Build)!.Proofs);
    }

    private static async Task<JsonElement> Document(KeptServer kept, string photo, string key) =>
        JsonDocument.Parse(await kept.Server.Http.GetStringAsync($"/api/photos/{photo}/measurement/{key}.json")).RootElement;

    private static async Task<HttpResponseMessage> Send(KeptServer kept, string path, string json)
    {
        using StringContent content = new(json, Encoding.UTF8, "application/json");
        return await kept.Server.Http.PostAsync(path, content);
    }

    private static async Task<JsonElement> Posted(KeptServer kept, string path, string json, HttpStatusCode expected)
    {
        using HttpResponseMessage answer = await Send(kept, path, json);
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == expected, $"{(int)answer.StatusCode} {text}");
        return JsonDocument.Parse(text).RootElement;
    }

    private static async Task<string> Refused(KeptServer kept, string path, string json, HttpStatusCode expected) => (await Posted(kept, path, json, expected)).GetProperty("sentence").GetString()!;
}
