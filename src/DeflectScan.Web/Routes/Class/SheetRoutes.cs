using DeflectScan.Teaching;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Teaching;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>Feedback sheets as PDF: the instructor's of any student or of all in one zip file, a student's own.</summary>
internal static class SheetRoutes
{
    public static void Map(IEndpointRouteBuilder routes, ClassBench classes, ClassSheets sheets)
    {
        routes.MapGet("/api/classes/{id}/students/{student}/sheet.pdf", (HttpContext http) => ClassRoutes.With(http, classes, room => One(http, sheets, room, (string?)http.Request.RouteValues["student"])));
        routes.MapGet("/api/classes/{id}/sheets.zip", (HttpContext http) => ClassRoutes.With(http, classes, room => All(http, sheets, room)));
        routes.MapGet("/api/mine/sheet.pdf", (HttpContext http) => StudentRoutes.Own(http, classes, (room, student) => One(http, sheets, room, student.Id)));
    }

    private static async Task One(HttpContext http, ClassSheets sheets, ClassRoom room, string? student)
    {
        (string file, ClassRod? rod, ClassStudent? of) = sheets.Of(room).FirstOrDefault(s => s.Student.Id == student);
        if (rod is null)
            await Answers.Refuse(http, StatusCodes.Status404NotFound, "There is no measured photo yet to make a sheet of: ask again when one is measured.");
        else
            await ReportRoutes.File(http, $"{room.Facts.Title} {file}", "application/pdf", await sheets.Draw(room, rod, of!, Paper.Asked(http), Answers.Unit(http), http.RequestAborted));
    }

    private static async Task All(HttpContext http, ClassSheets sheets, ClassRoom room)
    {
        List<(string Name, byte[] Bytes)> files = [];
        foreach ((string file, ClassRod rod, ClassStudent student) in sheets.Of(room))
            files.Add((file, await sheets.Draw(room, rod, student, Paper.Asked(http), Answers.Unit(http), http.RequestAborted)));
        await (files.Count == 0
            ? Answers.Refuse(http, StatusCodes.Status404NotFound, "There is no measured photo yet to make a sheet of: ask again when one is measured.")
            : ReportRoutes.File(http, "sheets.zip", "application/zip", ReportRoutes.Zip(files)));
    }
}
