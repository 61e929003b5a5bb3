using System.Net;
using System.Text;
using System.Text.Json;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Teaching;

namespace DeflectScan.Web.Tests;

/// <summary>How long a class lives: over a restart, and till it goes with all its photos.</summary>
public class ClassLifeTests
{
    [Fact]
    public async Task AClassIsThereAfterARestartWithItsStudents()
    {
        string folder = Path.Combine(Path.GetTempPath(), "deflectscan-class-" + Path.GetRandomFileName());
        try
        {
            string id, code;
            await using (ClassServer held = await ClassServer.Start(folder))
            {
                (id, code) = (held.Id, held.Code);
                using StudentPhone anna = await ClassTests.Student(held, "Anna");
                await anna.SendOne(ClassServer.Photo(1));
                await held.Set("{\"target\":\"best\"}");
            }

            await File.AppendAllTextAsync(Path.Combine(folder, "classes", id, "class.jsonl"), "{\"do\":\"joined\",\"stud"); // a line that a killed process did not end
            await using TestServer again = await TestServer.Start(o => o with { IsForPhones = true, Measure = ClassServer.Measure }, folder);
            JsonElement board = JsonDocument.Parse(await again.Http.GetStringAsync($"/api/classes/{id}")).RootElement;
            Assert.Equal(code, board.GetProperty("code").GetString());
            Assert.Equal("best", board.GetProperty("facts").GetProperty("target").GetString());
            Assert.Equal("Anna", board.GetProperty("rods")[0].GetProperty("name").GetString());
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public async Task AClassGoesWhollyAndWhatElseIsThereStays()
    {
        await using ClassServer held = await ClassServer.Start();
        string bench = await held.Server.UploadOf(ClassServer.Photo(7), "own.jpg");
        using StudentPhone anna = await ClassTests.Student(held, "Anna");
        await anna.SendOne(ClassServer.Photo(1));
        await anna.SendOne(ClassServer.Photo(2));
        await held.Filled(1);
        string says = JsonDocument.Parse(await held.Server.Http.GetStringAsync($"/api/classes/{held.Id}/going")).RootElement.GetProperty("says").GetString()!;
        Assert.Contains("1 student, 2 photos", says, StringComparison.Ordinal);
        using HttpResponseMessage gone = await held.Server.Http.PostAsync($"/api/classes/{held.Id}/delete", null);
        Assert.True(gone.IsSuccessStatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await held.Server.Http.GetAsync($"/api/classes/{held.Id}")).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await anna.Get("/api/mine")).StatusCode);
        Assert.False(Directory.Exists(Path.Combine(held.Server.Folder, "classes", held.Id)));
        Assert.Equal([bench, "incoming"], Directory.EnumerateDirectories(Path.Combine(held.Server.Folder, "bench")).Select(Path.GetFileName).Order(StringComparer.Ordinal));
        foreach (string file in Directory.EnumerateFiles(held.Server.Folder, "*", SearchOption.AllDirectories).Where(f => !f.EndsWith(".lock", StringComparison.Ordinal)))
            Assert.DoesNotContain("Anna", Encoding.Latin1.GetString(await ClassTests.ReadShared(file)), StringComparison.Ordinal);
    }

    /// <summary>By the one command, with no page served; and a deletion that was cut short is ended.</summary>
    [Fact]
    public async Task ACommandSaysWhatGoesAndTakesItAway()
    {
        string folder = Path.Combine(Path.GetTempPath(), "deflectscan-class-" + Path.GetRandomFileName());
        try
        {
            string id;
            await using (ClassServer held = await ClassServer.Start(folder))
            {
                id = held.Id;
                using StudentPhone anna = await ClassTests.Student(held, "Anna");
                await anna.SendOne(ClassServer.Photo(1));
            }

            Assert.Equal(("Saturday", 1, 1), ClassArchive.List(folder).Select(c => (c.Title, c.Students, c.Photos)).Single());
            Assert.Equal((1, 1, 0), (ClassArchive.Take(folder, id, delete: false) is var goes ? (goes!.Students, goes.Photos, goes.Stay) : default));
            Assert.Single(ClassArchive.List(folder));
            await File.AppendAllTextAsync(Path.Combine(folder, "classes", id, "class.jsonl"), "{\"do\":\"going\"}\n");
            Assert.Null(ClassArchive.Take(folder, id, delete: false)); // what was begun is ended first
            Assert.DoesNotContain(Directory.EnumerateDirectories(Path.Combine(folder, "bench")), d => !d.EndsWith("incoming", StringComparison.Ordinal));
            Assert.False(Directory.Exists(Path.Combine(folder, "classes", id)));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}
