using System.Net;
using System.Text;
using System.Text.Json;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Teaching;

namespace DeflectScan.Web.Tests;

/// <summary>A class over the network: who comes in, what a phone sees, what is kept and what goes.</summary>
public class ClassTests
{
    internal static async Task<StudentPhone> Student(ClassServer held, string name)
    {
        StudentPhone phone = new(held.Server.Server);
        using HttpResponseMessage joined = await phone.Join(held.Code, name);
        Assert.True(joined.StatusCode == HttpStatusCode.Created, await joined.Content.ReadAsStringAsync());
        return phone;
    }

    [Fact]
    public async Task TheBoardFillsAsPhotosArriveAndTriesStay()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone anna = await Student(held, "Anna");
        using StudentPhone ben = await Student(held, "");
        using StudentPhone third = await Student(held, "No. 4");
        using StudentPhone fourth = await Student(held, "");
        Assert.Equal("No. 5", (await fourth.Mine()).GetProperty("name").GetString()); // nobody has another's name
        await anna.SendOne(ClassServer.Photo(0)); // refused
        await anna.SendOne(ClassServer.Photo(1));
        await ben.SendOne(ClassServer.Photo(2));
        await held.Set("{\"target\":5,\"order\":\"name\"}");
        JsonElement board = await held.Filled(2);
        JsonElement[] rods = [.. board.GetProperty("rods").EnumerateArray()];
        Assert.Equal(["Anna", "No. 2", "No. 4", "No. 5"], rods.Select(r => r.GetProperty("name").GetString()));
        Assert.Equal(2, rods[0].GetProperty("tries").GetArrayLength());
        Assert.All(rods.Take(2), r => Assert.Equal(5, r.GetProperty("targetMm").GetDouble()));
        Assert.All(rods.Take(2), r => Assert.True(r.GetProperty("strip").GetProperty("rings").GetArrayLength() > 3));
        JsonElement mine = await anna.Mine();
        Assert.Equal(["ok", "refused"], mine.GetProperty("tries").EnumerateArray().Select(t => t.GetProperty("status").GetString()));
        Assert.True(mine.GetProperty("tries")[0].GetProperty("moves").GetArrayLength() > 0);
        ThreadPool.GetMinThreads(out int workers, out _);
        Assert.True(workers >= Environment.ProcessorCount + 4, "measuring would keep the board's answers waiting for a thread");
        await held.Set("{\"hideNames\":true}");
        Assert.DoesNotContain("Anna", (await held.Board()).GetProperty("rods").GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task TheCheckComesBeforeTheMeasurement()
    {
        using SemaphoreSlim go = new(0);
        StudentPhone? bens = null;
        int calls = 0, checkedByThen = -1;
        await using ClassServer held = await ClassServer.Start(change: o => o with
        {
            Measure = (path, options, progress, cancel) =>
            {
                // Both threads are held until all are sent; when the next is measured, those that waited have been looked at.
                int call = Interlocked.Increment(ref calls);
                if (call <= 2)
                    go.Wait(cancel);
                else if (call == 3)
                    checkedByThen = bens!.Mine().GetAwaiter().GetResult().GetProperty("tries").EnumerateArray().Count(t => t.TryGetProperty("check", out JsonElement check) && check.GetProperty("reach").GetString() == "cards"); // of blank and line the measurement says more
                return ClassServer.Measure(path, options, progress, cancel);
            },
        });
        using StudentPhone anna = await Student(held, "Anna");
        using StudentPhone ben = bens = await Student(held, "Ben");
        await anna.SendOne(ClassServer.Photo(1));
        await ben.SendOne(ClassServer.Photo(2));
        await ben.SendOne(ClassServer.Photo(3));
        await ben.SendOne(ClassServer.Photo(4));
        await ben.SendOne(ClassServer.Photo(5)); // more than the threads can take at once: who is alone is measured at once
        go.Release(2);
        for (DateTime late = DateTime.UtcNow.AddMinutes(2); Volatile.Read(ref checkedByThen) < 0; await Task.Delay(20))
            Assert.True(DateTime.UtcNow < late, "the third was not measured within two minutes");
        Assert.True(checkedByThen >= 1, "nothing was looked at before its measurement");
    }

    [Fact]
    public async Task APhoneSeesItsOwnPhotosAndNothingElse()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone anna = await Student(held, "Anna");
        using StudentPhone ben = await Student(held, "Ben");
        string annas = await anna.SendOne(ClassServer.Photo(1));
        await ben.SendOne(ClassServer.Photo(2));
        JsonElement board = await held.Filled(2);
        string photo = board.GetProperty("rods")[0].GetProperty("photo").GetString()!;
        Assert.Equal(HttpStatusCode.OK, (await anna.Get($"/api/mine/photos/{annas}/photo.jpg")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await ben.Get($"/api/mine/photos/{annas}/photo.jpg")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await ben.Get($"/api/mine/photos/{photo}/photo.jpg")).StatusCode);
        Assert.DoesNotContain(annas, (await ben.Mine()).GetRawText(), StringComparison.Ordinal);
        Assert.DoesNotContain(photo, (await ben.Mine()).GetRawText(), StringComparison.Ordinal); // a photo's own name is nobody's
        string[] others =
        [
            "/", "/api/photos", $"/api/photos/{photo}", $"/api/photos/{photo}/overview.jpg", $"/api/photos/{photo}/measurement/read.json", "/api/archive", "/api/builds", "/api/series", "/api/events",
            "/api/classes", $"/api/classes/{held.Id}", $"/api/classes/{held.Id}/class.csv", $"/api/classes/{held.Id}/events", $"/classes/{held.Id}", "/api/invitation", "/api/about",
        ];
        foreach (string path in others)
            Assert.True((await ben.Get(path)).StatusCode == HttpStatusCode.Unauthorized, path);
        foreach (string path in new[] { $"/api/photos/{photo}/aside", $"/api/classes/{held.Id}", $"/api/classes/{held.Id}/delete", "/api/photos?name=a.jpg", "/api/builds" })
            Assert.True((await ben.Post(path)).StatusCode == HttpStatusCode.Unauthorized, path);
        Assert.Equal(HttpStatusCode.OK, (await ben.Get("/class")).StatusCode);
    }

    [Fact]
    public async Task TheBoardIsSeenOnPhonesOnlyWhenTheInstructorSaysSo()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone anna = await Student(held, "Anna");
        using StudentPhone ben = await Student(held, "Ben");
        await anna.SendOne(ClassServer.Photo(1));
        await held.Filled(1);
        Assert.Equal(HttpStatusCode.Forbidden, (await ben.Get("/api/mine/board")).StatusCode);
        await held.Set("{\"boardShown\":true,\"hideNames\":true}");
        string board = await (await ben.Get("/api/mine/board")).Content.ReadAsStringAsync();
        Assert.DoesNotContain("Anna", board, StringComparison.Ordinal);
        Assert.DoesNotContain("\"photo\"", board, StringComparison.Ordinal);
        Assert.DoesNotContain(held.Code, board, StringComparison.Ordinal);
    }

    [Fact]
    public async Task AnotherClassIsAnother()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone anna = await Student(held, "Anna");
        using StringContent title = new("{\"title\":\"Sunday\"}", Encoding.UTF8, "application/json");
        using HttpResponseMessage made = await held.Server.Http.PostAsync("/api/classes", title);
        string other = JsonDocument.Parse(await made.Content.ReadAsStringAsync()).RootElement.GetProperty("id").GetString()!;
        await anna.SendOne(ClassServer.Photo(1));
        Assert.Equal("Saturday", (await anna.Mine()).GetProperty("class").GetString());
        Assert.Equal(0, JsonDocument.Parse(await held.Server.Http.GetStringAsync($"/api/classes/{other}")).RootElement.GetProperty("rods").GetArrayLength());
        Assert.Equal("[]", await held.Server.Http.GetStringAsync("/api/photos")); // nor does it lie among the bench's
    }

    [Fact]
    public async Task GuessingACodeIsStopped()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone guesser = new(held.Server.Server);
        for (int i = 0; i < ClassDoor.MostWrong; i++)
            Assert.Equal(HttpStatusCode.Unauthorized, (await guesser.Join($"00000{i}", "x")).StatusCode);
        Assert.Equal(HttpStatusCode.TooManyRequests, (await guesser.Join(held.Code, "x")).StatusCode); // even the right one, for a minute
        Assert.Equal(HttpStatusCode.Unauthorized, (await guesser.Get("/api/mine")).StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await guesser.Send(ClassServer.Photo(1))).StatusCode);
        Assert.Empty((await held.Board()).GetProperty("rods").EnumerateArray());
    }

    /// <summary>A guesser at one address does not keep the class out, and all guessers together are stopped, too.</summary>
    [Fact]
    public void WrongCodesAreCountedByAddressAndInAll()
    {
        Clock clock = new();
        ClassDoor door = new(clock);
        for (int i = 0; i < ClassDoor.MostWrong; i++)
            door.Wrong("10.0.0.1");
        Assert.True(door.IsPaused("10.0.0.1"));
        Assert.False(door.IsPaused("10.0.0.2"));
        for (int i = 0; i < ClassDoor.MostWrongOfAll; i++)
            door.Wrong($"10.0.1.{i}");
        Assert.True(door.IsPaused("10.0.0.2"));
        clock.Now += TimeSpan.FromSeconds(61);
        Assert.False(door.IsPaused("10.0.0.1"));
    }

    [Fact]
    public async Task ManyPhotosInAMinuteAreTooMany()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone anna = await Student(held, "Anna");
        for (int i = 0; i < ClassRoom.MostInAMinute; i++)
            await anna.SendOne(ClassServer.Photo(i + 1));
        using HttpResponseMessage answer = await anna.Send(ClassServer.Photo(40));
        Assert.Equal(HttpStatusCode.TooManyRequests, answer.StatusCode);
        Assert.Contains("many photos in a minute", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task WhereAPhotoWasTakenIsOutOfItBeforeItIsKeptAndItIsSaid()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone anna = await Student(held, "Anna");
        byte[] photo = ClassServer.Photo(1);
        Assert.Contains("GPSLatitude", Encoding.Latin1.GetString(photo), StringComparison.Ordinal);
        await anna.SendOne(photo);
        await held.Filled(1);
        Assert.True((await anna.Mine()).GetProperty("tries")[0].GetProperty("saidPlace").GetBoolean());
        foreach (string file in Directory.EnumerateFiles(held.Server.Folder, "*", SearchOption.AllDirectories).Where(f => !f.EndsWith(".lock", StringComparison.Ordinal)))
            Assert.DoesNotContain("GPSLatitude", Encoding.Latin1.GetString(await ReadShared(file)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task WhatIsNoPhotoIsRefusedAndNotKept()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone anna = await Student(held, "Anna");
        byte[] photo = ClassServer.Photo(1);
        foreach (byte[] bad in new[] { photo[..200], Encoding.ASCII.GetBytes("<html>"), [1] })
        {
            using HttpResponseMessage answer = await anna.Send(bad);
            Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
            Assert.Contains("\"sentence\":", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }

        Assert.Equal(0, (await anna.Mine()).GetProperty("tries").GetArrayLength());
        Assert.Equal(["incoming"], Directory.EnumerateDirectories(Path.Combine(held.Server.Folder, "bench")).Select(Path.GetFileName));
    }

    [Fact]
    public async Task TheSamePhotoOfTwoStudentsIsSaid()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone anna = await Student(held, "Anna");
        using StudentPhone ben = await Student(held, "Ben");
        await anna.SendOne(ClassServer.Photo(1));
        await ben.SendOne(ClassServer.Photo(1));
        JsonElement board = await held.Filled(2);
        Assert.Contains(board.GetProperty("standsOut").EnumerateArray(), s => s.GetString()!.Contains("The same photo was sent by Anna and Ben", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("{\"target\":0.1}")]
    [InlineData("{\"target\":\"soft\"}")]
    [InlineData("{\"order\":\"beauty\"}")]
    [InlineData("{\"title\":\"\"}")]
    [InlineData("[]")]
    [InlineData("{\"hideNames\":3}")]
    public async Task ASenselessSettingIsRefusedInOneSentence(string json)
    {
        await using ClassServer held = await ClassServer.Start();
        using StringContent content = new(json, Encoding.UTF8, "application/json");
        using HttpResponseMessage answer = await held.Server.Http.PostAsync($"/api/classes/{held.Id}", content);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains("\"sentence\":", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task NamesAreCleanedAndNobodyHasAnothers()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone anna = await Student(held, "  A\u202enna\u0007 <b> ");
        Assert.Equal("Anna <b>", (await anna.Mine()).GetProperty("name").GetString());
        using StudentPhone second = new(held.Server.Server);
        Assert.Equal(HttpStatusCode.Conflict, (await second.Join(held.Code, "anna <B>")).StatusCode);
        await held.Set("{\"open\":false}");
        Assert.Equal(HttpStatusCode.Conflict, (await second.Join(held.Code, "Ben")).StatusCode);
    }

    internal static async Task<byte[]> ReadShared(string file)
    {
        await using FileStream stream = new(file, FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        byte[] bytes = new byte[stream.Length];
        await stream.ReadExactlyAsync(bytes);
        return bytes;
    }

    private sealed class Clock : TimeProvider
    {
        public DateTimeOffset Now { get; set; } = new(2026, 5, 2, 10, 0, 0, TimeSpan.Zero);

        public override DateTimeOffset GetUtcNow() => Now;
    }
}
