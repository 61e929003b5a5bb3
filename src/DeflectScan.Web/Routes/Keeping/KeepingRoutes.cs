using DeflectScan.Web.Measuring;
using Microsoft.AspNetCore.Routing;

namespace DeflectScan.Web.Routes;

/// <summary>All that concerns the archive of builds: the same use cases as the command line's <c>records</c>.</summary>
internal static class KeepingRoutes
{
    public static void Map(IEndpointRouteBuilder routes, ServeOptions options, Bench bench)
    {
        ArchiveDoor door = new(options.ArchiveFolder, () => bench.Changes.Say(Changes.Archive));
        BuildRoutes.Map(routes, door, bench);
        TestRoutes.Map(routes, door, bench, options);
        CompareRoutes.Map(routes, door);
        KeptProofRoutes.Map(routes, door, bench);
        ReportRoutes.Map(routes, door);
        ArchiveRoutes.Map(routes, door);
    }
}
