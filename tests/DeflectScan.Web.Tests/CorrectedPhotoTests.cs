using System.Text.Json;

namespace DeflectScan.Web.Tests;

/// <summary>A real photo corrected: it is measured with the marks, the other rings unmoved, and undone to where it was.</summary>
[Collection(PageTests.Name)]
public class CorrectedPhotoTests
{
    [Fact]
    public async Task AGuideTakenOffComesBackByAnUndoThatOutlivesARestart()
    {
        string folder = Directory.CreateTempSubdirectory("deflectscan-corrected-").FullName;
        Directory.Delete(folder);
        try
        {
            string id;
            string read;
            await using (TestServer server = await TestServer.Start(null, folder))
            {
                id = await server.UploadOf(await File.ReadAllBytesAsync(TestServer.TestPhoto("clean-spinning")), "photo.jpg");
                read = (await server.Settled(id)).GetProperty("headline").GetRawText();
                JsonElement before = await Document(server, id);
                using HttpResponseMessage taken = await server.Correct(id, "{\"do\":\"remove\",\"guide\":3}");
                taken.EnsureSuccessStatusCode();
                JsonElement corrected = await server.Settled(id);
                JsonElement after = await Document(server, id);
                Assert.Equal("Guide 3 taken off", corrected.GetProperty("undo").GetString());
                Assert.Equal(before.GetProperty("guides").GetArrayLength() - 1, after.GetProperty("guides").GetArrayLength());
                double[] stations = [.. before.GetProperty("guides").EnumerateArray().Select(g => g.GetProperty("station_mm").GetDouble())];
                double[] left = [.. after.GetProperty("guides").EnumerateArray().Select(g => g.GetProperty("station_mm").GetDouble())];
                foreach ((double was, double now) in stations.Where((_, i) => i != 2).Zip(left))
                    Assert.InRange(Math.Abs(was - now), 0, 0.2);
            }

            await using TestServer again = await TestServer.Start(null, folder);
            Assert.Equal("Guide 3 taken off", (await again.Settled(id)).GetProperty("undo").GetString());
            await again.Tell(id, "undo");
            JsonElement undone = await again.Settled(id);
            Assert.Equal(read, undone.GetProperty("headline").GetRawText());
            Assert.Equal("Guide 3 taken off", undone.GetProperty("redo").GetString());
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static async Task<JsonElement> Document(TestServer server, string id)
    {
        string key = (await server.Photo(id)).GetProperty("key").GetString()!;
        return JsonDocument.Parse(await server.Http.GetStringAsync($"/api/photos/{id}/measurement/{key}.json")).RootElement;
    }
}
