using System.Globalization;
using System.Text;
using System.Text.Json;
using DeflectScan.Bending;
using DeflectScan.Desk;
using DeflectScan.Findings;
using DeflectScan.Geometry;
using DeflectScan.Layout.Spacing;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Trying;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>Other layouts on a measured photo: judged, best spaced, bent to other loads, printed, accepted.</summary>
internal static class TryRoutes
{
    public static void Map(IEndpointRouteBuilder routes, Bench bench)
    {
        TryDesks desks = new();
        routes.MapGet("/api/photos/{id}/try/{key}/whatif", (HttpContext http) => Tried(http, bench, desks, (desk, report, changes) =>
            Answers.Bytes(http, TryAnswer.Of(report, desk.Moves(report), changes, Answers.Unit(http)), "application/json; charset=utf-8")));
        routes.MapGet("/api/photos/{id}/try/{key}/spacing", (HttpContext http) => At(http, bench, desks, desk => Space(http, desk)));
        routes.MapGet("/api/photos/{id}/try/{key}/bend", (HttpContext http) => Tried(http, bench, desks, (desk, report, changes) => Bend(http, desk, report, changes.Count == 0)));
        routes.MapGet("/api/photos/{id}/try/{key}/layout.json", (HttpContext http) => Tried(http, bench, desks, (desk, report, _) =>
            Answers.Bytes(http, Encoding.UTF8.GetBytes(LayoutJson.Write(desk.Sheet(report, Title(http, desk)))), "application/json; charset=utf-8")));
        routes.MapGet("/api/photos/{id}/try/{key}/sheet.pdf", (HttpContext http) => Tried(http, bench, desks, (desk, report, _) => Paper.Sheet(http, desk.Sheet(report, Title(http, desk)))));
        routes.MapGet("/api/photos/{id}/try/{key}/tape.pdf", (HttpContext http) => Tried(http, bench, desks, (desk, report, _) => Paper.Tape(http, desk.Sheet(report, Title(http, desk)))));
    }

    /// <summary>Does something with the desk of the address's document.</summary>
    public static Task At(HttpContext http, Bench bench, TryDesks desks, Func<TryDesk, Task> then) => Answers.WithPhoto(http, bench, photo =>
    {
        if (http.Request.RouteValues["key"] is not string key || !PhotoRoutes.IsKey(key) || bench.Folder.Result(photo.Stored.Id, Bench.DocumentName(key)) is not { } document)
            return Answers.Refuse(http, StatusCodes.Status404NotFound, "There is no such measurement of this photo.");
        return Answers.OrRefusal(http, desks.Of($"{photo.Stored.Id}/{key}", () => MeasurementJson.Read(Encoding.UTF8.GetString(document))), then);
    });

    private static Task Tried(HttpContext http, Bench bench, TryDesks desks, Func<TryDesk, WhatIfReport, IReadOnlyList<GuideChange>, Task> then) => At(http, bench, desks, desk =>
    {
        IReadOnlyList<GuideChange> changes = TriedLayout.Read(http.Request.Query["layout"]);
        return Answers.OrRefusal(http, desk.WhatIf(changes), report => then(desk, report, changes));
    });

    private static Task Space(HttpContext http, TryDesk desk)
    {
        SpacingRequest request = new()
        {
            Guides = Whole(http, "guides"),
            Hold = Whole(http, "hold"),
            Options = new SpacingOptions
            {
                Goal = http.Request.Query["goal"] == "gap" ? SpacingGoal.Gap : SpacingGoal.Bow,
                GridMm = Answers.Unit(http) == LengthUnit.Inches ? UnitsText.MmPerInch / 16 : new SpacingOptions().GridMm,
            },
        };
        return Answers.OrRefusal(http, desk.Spacing(request), report =>
            Answers.Bytes(http, TryAnswer.Of(report, desk.ChangesOf(report), Answers.Unit(http)), "application/json; charset=utf-8"));
    }

    private static Task Bend(HttpContext http, TryDesk desk, WhatIfReport tried, bool isAsMeasured)
    {
        string[] parts = http.Request.Query["at"].ToString().Split(',', StringSplitOptions.RemoveEmptyEntries);
        BendRequest asked = new([.. parts.Select(p => AskedBend.Load(double.TryParse(p, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out double f) ? f : double.NaN))]);
        if (asked.FirstProblem() is { } problem)
            return Answers.Refuse(http, StatusCodes.Status400BadRequest, problem);
        return Answers.OrRefusal(http, desk.Bend(tried, isAsMeasured, asked), report =>
            Answers.Bytes(http, TryAnswer.Of(report, report.BestOverRange is { } best ? desk.ChangesOf(best, tried) : null, Answers.Unit(http)), "application/json; charset=utf-8"));
    }

    private static int? Whole(HttpContext http, string name) => int.TryParse(http.Request.Query[name], NumberStyles.None, CultureInfo.InvariantCulture, out int value) ? value : null;

    private static string Title(HttpContext http, TryDesk desk) => Paper.Title(http) ?? desk.PhotoName;
}
