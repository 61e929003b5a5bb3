using System.Text;
using DeflectScan.Layout.Start;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using DeflectScan.Web.Starting;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>A layout to begin with, before there is anything to measure; its form is in the address.</summary>
internal static class StartRoutes
{
    public static void Map(IEndpointRouteBuilder routes)
    {
        routes.MapGet("/api/start/plan", (HttpContext http) => Planned(http, (input, layout) =>
            Answers.Bytes(http, StartAnswer.Of(input, layout, Answers.Unit(http)), "application/json; charset=utf-8")));
        routes.MapGet("/api/start/layout.json", (HttpContext http) => Planned(http, (input, layout) =>
            Answers.Bytes(http, Encoding.UTF8.GetBytes(LayoutJson.Write(Sheet(http, input, layout))), "application/json; charset=utf-8")));
        routes.MapGet("/api/start/sheet.pdf", (HttpContext http) => Planned(http, (input, layout) => Paper.Sheet(http, Sheet(http, input, layout))));
        routes.MapGet("/api/start/tape.pdf", (HttpContext http) => Planned(http, (input, layout) => Paper.Tape(http, Sheet(http, input, layout))));
    }

    private static Task Planned(HttpContext http, Func<StartInput, StartLayout, Task> then)
    {
        StartInput input = StartForm.Read(name => http.Request.Query[name].ToString(), Answers.Unit(http));
        return Answers.OrRefusal(http, StartRule.Plan(input), layout => then(input, layout));
    }

    private static SheetLayout Sheet(HttpContext http, StartInput input, StartLayout layout) =>
        LayoutJson.Read(LayoutJson.Write(DeskSheet.Of(layout, input, Paper.Title(http) ?? "Start layout"))).OrDamaged();
}
