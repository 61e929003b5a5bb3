using System.IO.Compression;
using System.Net;
using System.Text;
using UglyToad.PdfPig;

namespace DeflectScan.Web.Tests;

/// <summary>Feedback sheets from the page: the instructor's of everyone, a phone's own alone, hidden names hidden.</summary>
public class ClassSheetTests
{
    [Fact]
    public async Task TheInstructorHasEverySheetAndAPhoneItsOwn()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone anna = await ClassTests.Student(held, "Anna/..\\Ä");
        using StudentPhone ben = await ClassTests.Student(held, "Ben");
        using StudentPhone carl = await ClassTests.Student(held, "Carl");
        await anna.SendOne(ClassServer.Photo(1));
        await ben.SendOne(ClassServer.Photo(0)); // refused: the sheet says why
        System.Text.Json.JsonElement board = await held.Filled(2);
        string annas = board.GetProperty("rods").EnumerateArray().First(r => r.GetProperty("name").GetString()!.StartsWith("Anna", StringComparison.Ordinal)).GetProperty("student").GetString()!;

        using ZipArchive zip = new(new MemoryStream(await held.Server.Http.GetByteArrayAsync($"/api/classes/{held.Id}/sheets.zip")));
        Assert.Equal(["Anna_.._Ä.pdf", "Ben.pdf"], zip.Entries.Select(e => e.FullName).Order(StringComparer.Ordinal));
        foreach (ZipArchiveEntry entry in zip.Entries)
            Assert.Equal("%PDF", Begins(entry));

        using HttpResponseMessage one = await held.Server.Http.GetAsync($"/api/classes/{held.Id}/students/{annas}/sheet.pdf");
        Assert.Equal("attachment", one.Content.Headers.ContentDisposition!.DispositionType);
        Assert.Equal("Saturday Anna_.._Ä.pdf", one.Content.Headers.ContentDisposition.FileNameStar);
        using HttpResponseMessage own = await anna.Get("/api/mine/sheet.pdf");
        Assert.Equal(HttpStatusCode.OK, own.StatusCode);
        Assert.Equal(Words(await one.Content.ReadAsByteArrayAsync()), Words(await own.Content.ReadAsByteArrayAsync()));
        Assert.Equal(HttpStatusCode.NotFound, (await carl.Get("/api/mine/sheet.pdf")).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await held.Server.Http.GetAsync($"/api/classes/{held.Id}/students/0123456789abcdef/sheet.pdf")).StatusCode);
        foreach (string path in new[] { $"/api/classes/{held.Id}/sheets.zip", $"/api/classes/{held.Id}/students/{annas}/sheet.pdf" })
            Assert.Equal(HttpStatusCode.Unauthorized, (await ben.Get(path)).StatusCode);
    }

    [Fact]
    public async Task HiddenNamesAreHiddenInSheetsToo()
    {
        await using ClassServer held = await ClassServer.Start();
        using StudentPhone anna = await ClassTests.Student(held, "Annabella");
        await anna.SendOne(ClassServer.Photo(1));
        await held.Filled(1);
        string shown = Words(await (await anna.Get("/api/mine/sheet.pdf")).Content.ReadAsByteArrayAsync());
        Assert.Contains("Annabella", shown, StringComparison.Ordinal);
        await held.Set("{\"hideNames\":true}");
        using HttpResponseMessage hidden = await anna.Get("/api/mine/sheet.pdf");
        Assert.Contains("Rod 1", hidden.Content.Headers.ContentDisposition!.FileNameStar, StringComparison.Ordinal);
        string text = Words(await hidden.Content.ReadAsByteArrayAsync());
        Assert.DoesNotContain("Annabella", text, StringComparison.Ordinal);
        Assert.Contains("Rod 1", text, StringComparison.Ordinal);
        using ZipArchive zip = new(new MemoryStream(await held.Server.Http.GetByteArrayAsync($"/api/classes/{held.Id}/sheets.zip")));
        Assert.Equal("Rod 1.pdf", Assert.Single(zip.Entries).FullName);
    }

    private static string Begins(ZipArchiveEntry entry)
    {
        using Stream stream = entry.Open();
        byte[] first = new byte[4];
        stream.ReadExactly(first);
        return Encoding.ASCII.GetString(first);
    }

    /// <summary>What a PDF says, its own title first.</summary>
    private static string Words(byte[] pdf)
    {
        using PdfDocument document = PdfDocument.Open(pdf);
        Assert.All(document.GetPages().SelectMany(p => p.GetWords().Select(w => p.Width - w.BoundingBox.Right)), room => Assert.True(room > 20, "a word runs over the page's edge"));
        return $"{document.Information.Title} | {string.Join(' ', document.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text))}";
    }
}
