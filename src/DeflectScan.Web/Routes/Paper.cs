using DeflectScan.Reporting.Sheets;
using Microsoft.AspNetCore.Http;

namespace DeflectScan.Web.Routes;

/// <summary>A layout on paper, as the commands sheet and tape print it.</summary>
internal static class Paper
{
    private const int LongestTitle = 120;

    public static Task Sheet(HttpContext http, SheetLayout layout) =>
        Print(http, layout, "sheet", paper => LayoutSheet.Draw(layout, paper, Answers.Unit(http), DateOnly.FromDateTime(DateTime.Now)));

    public static Task Tape(HttpContext http, SheetLayout layout) => Print(http, layout, "tape", paper => MarkingTape.Draw(layout, paper, Answers.Unit(http)));

    /// <summary>The title that was asked for, one line; null where none was.</summary>
    public static string? Title(HttpContext http)
    {
        string title = string.Concat(http.Request.Query["title"].ToString().Where(c => !char.IsControl(c))).Trim();
        return title.Length is > 0 and <= LongestTitle ? title : null;
    }

    /// <summary>The paper that was asked for.</summary>
    public static SheetPaper Asked(HttpContext http) => http.Request.Query["paper"] == "letter" ? SheetPaper.Letter : SheetPaper.A4;

    private static Task Print(HttpContext http, SheetLayout layout, string what, Func<SheetPaper, byte[]> draw)
    {
        if (LayoutSheet.Problem(layout) is { } problem)
            return Answers.Refuse(http, StatusCodes.Status409Conflict, problem);
        http.Response.Headers.ContentDisposition = $"inline; filename=\"{what}.pdf\"";
        return Answers.Bytes(http, draw(Asked(http)), "application/pdf");
    }
}
