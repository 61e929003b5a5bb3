using System.IO.Compression;
using System.Text;
using DeflectScan.Records;
using DeflectScan.Records.Finding;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Reporting.Json;
using DeflectScan.Reporting.Sheets;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;
using Microsoft.Net.Http.Headers;

namespace DeflectScan.Web.Routes;

/// <summary>What a build is printed and carried away as; every file is the command line's.</summary>
internal static class ReportRoutes
{
    public static void Map(IEndpointRouteBuilder routes, ArchiveDoor door)
    {
        routes.MapGet("/api/builds/{id}/sheet.pdf", (HttpContext http) => One(http, door, "sheet.pdf", "application/pdf", (reader, build) => BuildSheetPdf.Write(
            [BuildSheet.Of(reader, build)], Paper.Asked(http))));
        routes.MapGet("/api/builds/{id}/sheet.html", (HttpContext http) => One(http, door, "sheet.html", "text/html; charset=utf-8", (reader, build) =>
            Encoding.UTF8.GetBytes(BuildSheetHtml.Write([BuildSheet.Of(reader, build)]))));
        routes.MapGet("/api/builds/{id}/sheet.json", (HttpContext http) => One(http, door, "build.json", "application/json", (reader, build) => Encoding.UTF8.GetBytes(BuildJson.Write(reader, build))));
        routes.MapGet("/api/builds/{id}/tables.zip", (HttpContext http) => One(http, door, "tables.zip", "application/zip", (reader, build) => Zip(BuildCsv.Write(reader, build))));
        routes.MapGet("/api/builds/{id}/layout.json", (HttpContext http) => One(http, door, "layout.json", "application/json", Layout));
        routes.MapGet("/api/builds.csv", (HttpContext http) => door.Read(http, reader => File(http, "builds.csv", "text/csv; charset=utf-8", AllCsv.Write(reader, new ListQuery { Order = BuildRoutes.Order(http) }))));
    }

    /// <summary>A file to be saved: it is never shown as a page of this address.</summary>
    public static async Task File(HttpContext http, string name, string type, byte[] bytes)
    {
        Name(http, name, type);
        http.Response.ContentLength = bytes.Length;
        await http.Response.Body.WriteAsync(bytes, http.RequestAborted);
    }

    /// <summary>Says of what is about to be sent that it is a file to be saved; a name may come from anyone.</summary>
    public static void Name(HttpContext http, string name, string type)
    {
        http.Response.ContentType = type;
        ContentDispositionHeaderValue saved = new("attachment");
        saved.SetHttpFileName(name);
        http.Response.Headers.ContentDisposition = saved.ToString();
        http.Response.Headers.CacheControl = "no-store";
    }

    private static Task One(HttpContext http, ArchiveDoor door, string name, string type, Func<ArchiveReader, Build, byte[]> make) =>
        door.Read(http, reader => File(http, name, type, make(reader, Asked.Build(http, reader))));

    private static byte[] Layout(ArchiveReader reader, Build build) =>
        SheetDrawing.Of(build, build.LatestTest is { } last ? reader.Measurement(last) : null) is var (_, layout)
            ? Encoding.UTF8.GetBytes(LayoutJson.Write(layout))
            : throw new ArchiveException(ArchiveProblem.Refused, "The build has no layout that can be printed: add its guides, a photo or a layout first.");

    /// <summary>Files in one zip file.</summary>
    public static byte[] Zip(IReadOnlyList<(string Name, byte[] Bytes)> files)
    {
        using MemoryStream all = new();
        using (ZipArchive zip = new(all, ZipArchiveMode.Create))
        {
            foreach ((string name, byte[] bytes) in files)
            {
                using Stream entry = zip.CreateEntry(name).Open();
                entry.Write(bytes);
            }
        }

        return all.ToArray();
    }
}
