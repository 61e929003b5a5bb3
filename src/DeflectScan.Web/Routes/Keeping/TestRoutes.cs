using System.Text.Json.Nodes;
using DeflectScan.Records;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;
using DeflectScan.Web.Correcting;
using DeflectScan.Web.Measuring;
using DeflectScan.Web.Storing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>A build's tests: keeping a photo of the bench, setting one aside as wrong, letting it count again, moving it, its document and photo.</summary>
internal static class TestRoutes
{
    public static void Map(IEndpointRouteBuilder routes, ArchiveDoor door, Bench bench, ServeOptions options)
    {
        routes.MapPost("/api/photos/{id}/keep", (HttpContext http) => Answers.WithPhoto(http, bench, photo => Keep(http, door, bench, options, photo)));
        routes.MapPost("/api/builds/{id}/tests/{test}/aside", (HttpContext http) => Change(http, door, bench, (writer, build, test, sent) =>
            writer.SetAside(build.Id, test.Id, Sent.Text(sent, "reason") is { Length: > 0 } reason ? reason : null)));
        routes.MapPost("/api/builds/{id}/tests/{test}/again", (HttpContext http) => Change(http, door, bench, (writer, build, test, _) => writer.CountAgain(build.Id, test.Id)));
        routes.MapPost("/api/builds/{id}/tests/{test}/move", (HttpContext http) => Change(http, door, bench, Move));
        routes.MapGet("/api/builds/{id}/tests/{test}/document.json", (HttpContext http) => door.Read(http, reader => Answers.Lasting(
            http, System.Text.Encoding.UTF8.GetBytes(reader.Document(Asked.Test(http, Asked.Build(http, reader)))), "application/json; charset=utf-8")));
        routes.MapPost("/api/builds/{id}/tests/{test}/bench", (HttpContext http) => door.Read(http, reader => ToBench(http, bench, reader)));
    }

    private static Task Change(HttpContext http, ArchiveDoor door, Bench bench, Action<ArchiveWriter, Build, StoredMeasurement, JsonObject> change) =>
        BuildRoutes.ChangeOne(http, door, bench, (writer, build, sent) => change(writer, build, Asked.Test(http, build), sent));

    private static void Move(ArchiveWriter writer, Build build, StoredMeasurement test, JsonObject sent)
    {
        string to = writer.Reader.Resolve(Sent.Text(sent, "to") ?? "");
        if (to == build.Id)
            throw new ArchiveException(ArchiveProblem.Refused, "It is with that build already.");
        writer.MoveMeasurement(build.Id, test.Id, to);
    }

    /// <summary>Keeps a photo of the bench, with the marks that it was measured with, in a build that is there or a new one.</summary>
    private static async Task Keep(HttpContext http, ArchiveDoor door, Bench bench, ServeOptions options, BenchPhoto photo)
    {
        JsonObject sent = await Answers.Body(http);
        (Measurement? measured, MarksState with, string? problem) = photo.ToKeep();
        if (measured is null)
        {
            await Answers.Refuse(http, StatusCodes.Status409Conflict, problem!);
            return;
        }

        await door.Write(http, writer =>
        {
            (string? build, string? name, string? label) = (Sent.Text(sent, "build"), Sent.Text(sent, "name"), Sent.Text(sent, "label"));
            BuildFacts Facts(BuildFacts? known) => known ?? new BuildFacts { Name = name ?? "", Side = measured.Side };
            PhotoKeeping.Check(writer.Reader, build, Facts);
            NewMeasurement made = NewMeasurement.Of(measured, bench.Folder.Original(photo.Stored), options.Measuring with { Marks = with.Marks }, label is { Length: > 0 } ? label : null);
            (string id, _) = PhotoKeeping.Keep(writer, new PhotosToKeep(build, Facts, [made]));
            return BuildView.Of(writer.Reader.Build(id)!, bench);
        });
    }

    /// <summary>The test's photo on the bench again, to correct it there; the archive keeps its own.</summary>
    private static async Task ToBench(HttpContext http, Bench bench, ArchiveReader reader)
    {
        StoredMeasurement test = Asked.Test(http, Asked.Build(http, reader));
        await using FileStream photo = File.OpenRead(reader.PhotoPath(test));
        (BenchPhoto taken, _) = await bench.Take(photo, FileNames.Clean(reader.Measurement(test).Photo?.FileName), http.RequestAborted);
        await Answers.Json(http, PhotoView.Of(taken, Answers.Unit(http)), PageJson.Default.PhotoView);
    }
}
