using System.Text.Json.Nodes;
using DeflectScan.Photos;
using DeflectScan.Records;
using DeflectScan.Records.Comparing;
using DeflectScan.Records.Keeping;
using DeflectScan.Records.Model;
using DeflectScan.Records.Reports;
using DeflectScan.Web.Pictures;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>Before and after: two tests of one build, or of two, on one axis; both photos in register.</summary>
internal static class CompareRoutes
{
    public static void Map(IEndpointRouteBuilder routes, ArchiveDoor door)
    {
        routes.MapGet("/api/builds/{id}/compare", (HttpContext http) => door.Read(http, reader => Answers.Node(http, Compare(http, reader))));
        routes.MapGet("/api/builds/{id}/register/{which}.jpg", (HttpContext http) => door.Read(http, reader => Register(http, reader)));
    }

    private static JsonObject Compare(HttpContext http, ArchiveReader reader)
    {
        (Build build, Build other, StoredMeasurement before, StoredMeasurement after) = Meant(http, reader);
        Comparison c = Comparison.Of(reader.Measurement(before), reader.Measurement(after));
        JsonObject answer = BuildView.InUnit(ComparisonJson.Of(c, before.Id, after.Id), c, Answers.Unit(http));
        (answer["name"], answer["other"], answer["other_name"]) = (build.Facts.Name, other.Id, other.Facts.Name);
        return answer;
    }

    private static (Build Build, Build Other, StoredMeasurement Before, StoredMeasurement After) Meant(HttpContext http, ArchiveReader reader)
    {
        Build build = Asked.Build(http, reader);
        Build other = Asked.Text(http, "with") is { } with ? reader.Build(reader.Resolve(with))! : build;
        (string? before, string? after) = (Asked.Text(http, "before"), Asked.Text(http, "after"));
        (StoredMeasurement first, StoredMeasurement second) = other.Id == build.Id
            ? TestChoice.Two(build, before, after)
            : (TestChoice.Latest(build, before), TestChoice.Latest(other, after));
        return (build, other, first, second);
    }

    private static async Task Register(HttpContext http, ArchiveReader reader)
    {
        (_, _, StoredMeasurement before, StoredMeasurement after) = Meant(http, reader);
        using UprightPhoto first = ComparedPictures.Open(reader, before);
        using UprightPhoto second = ComparedPictures.Open(reader, after);
        (byte[] was, byte[] now) = InRegister.Draw(Comparison.Of(reader.Measurement(before), reader.Measurement(after)), first, second);
        await Answers.Lasting(http, PhotoPictures.OverviewOf((string?)http.Request.RouteValues["which"] == "after" ? now : was), "image/jpeg");
    }
}
