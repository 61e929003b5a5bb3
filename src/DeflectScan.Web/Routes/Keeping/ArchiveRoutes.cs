using System.Text.Json.Nodes;
using DeflectScan.Records.Checking;
using DeflectScan.Records.Transfer;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>The whole archive: taken out as one file, taken in, read through.</summary>
internal static class ArchiveRoutes
{
    /// <summary>Largest import, bytes: 20 000 photos of 10 MB (chosen); the file lies on the disk, not in memory.</summary>
    private const long MaxImportBytes = 200L << 30;

    public static void Map(IEndpointRouteBuilder routes, ArchiveDoor door)
    {
        routes.MapGet("/api/archive/export.zip", (HttpContext http) => door.Read(http, async reader =>
        {
            using TemporaryFile file = new(door.Folder);
            ExportFile.Write(reader, file.Path);
            http.Response.ContentType = "application/zip";
            http.Response.Headers.ContentDisposition = "attachment; filename=\"deflectscan-archive.zip\"";
            await http.Response.SendFileAsync(file.Path, http.RequestAborted);
        }));
        routes.MapPost("/api/archive/import", (HttpContext http) => Import(http, door));
        routes.MapPost("/api/archive/verify", (HttpContext http) => Answers.Node(http, Verify(door)));
    }

    private static async Task Import(HttpContext http, ArchiveDoor door)
    {
        if (http.Features.Get<IHttpMaxRequestBodySizeFeature>() is { IsReadOnly: false } limit)
            limit.MaxRequestBodySize = MaxImportBytes;
        using TemporaryFile file = new(door.Folder);
        await using (FileStream to = File.Create(file.Path))
            await http.Request.Body.CopyToAsync(to, http.RequestAborted);
        await door.Write(http, writer =>
        {
            ImportReport report = ImportFile.Read(writer, file.Path);
            return new JsonObject { ["builds"] = report.Builds, ["measurements"] = report.Measurements, ["photos"] = report.Photos, ["rows"] = report.Rows };
        });
    }

    private static JsonObject Verify(ArchiveDoor door)
    {
        CheckReport report = ArchiveCheck.Run(door.Folder);
        return new JsonObject
        {
            ["clean"] = report.IsClean, ["builds"] = report.Builds, ["measurements"] = report.Measurements, ["photos"] = report.Photos, ["bytes"] = report.Bytes,
            ["damages"] = new JsonArray([.. report.Damages.Select(d => (JsonNode)new JsonObject { ["where"] = d.Where, ["what"] = d.What, ["recovery"] = d.Recovery })]),
        };
    }

    /// <summary>A file beside the bench's incoming photos, which a start clears; gone when it is disposed.</summary>
    private sealed class TemporaryFile(string archiveFolder) : IDisposable
    {
        public string Path { get; } = System.IO.Path.Combine(System.IO.Path.GetFullPath(archiveFolder), "bench", "incoming", System.IO.Path.GetRandomFileName() + ".zip");

        public void Dispose()
        {
            if (File.Exists(Path))
                File.Delete(Path);
        }
    }
}
