using System.Globalization;
using DeflectScan.Findings;
using DeflectScan.Records;
using DeflectScan.Records.Model;
using Microsoft.AspNetCore.Http;

namespace DeflectScan.Web.Routes;

/// <summary>What an address of the archive asks for.</summary>
internal static class Asked
{
    public static string? Text(HttpContext http, string name) => http.Request.Query[name].ToString() is { Length: > 0 } text ? text : null;

    /// <exception cref="InputException">Not a number.</exception>
    public static double? Number(HttpContext http, string name) => Text(http, name) is not { } text ? null
        : double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value) ? value
        : throw new InputException($"'{name}' must be a number.");

    /// <exception cref="InputException">Not a whole number within the bounds.</exception>
    public static int Whole(HttpContext http, string name, int least, int most, int otherwise) => Whole(http, name, least, most) ?? otherwise;

    /// <exception cref="InputException">Not a whole number within the bounds.</exception>
    public static int? Whole(HttpContext http, string name, int least, int most) => Text(http, name) is not { } text ? null
        : int.TryParse(text, NumberStyles.Integer, CultureInfo.InvariantCulture, out int value) && value >= least && value <= most ? value
        : throw new InputException($"'{name}' must be a whole number from {least} to {most}.");

    /// <summary>The build of the address.</summary>
    /// <exception cref="ArchiveException">There is none.</exception>
    public static Build Build(HttpContext http, ArchiveReader reader) =>
        http.Request.RouteValues["id"] is string id && Guid.TryParseExact(id, "D", out _) && reader.Build(id) is { } build
            ? build
            : throw new ArchiveException(ArchiveProblem.NotThere, "There is no such build in this archive: go back to the list.");

    /// <summary>The test of the address, by its whole id.</summary>
    /// <exception cref="ArchiveException">The build has none of that id.</exception>
    public static StoredMeasurement Test(HttpContext http, Build build, string name = "test") =>
        build.Measurements.FirstOrDefault(m => m.Id == (string?)http.Request.RouteValues[name])
        ?? throw new ArchiveException(ArchiveProblem.NotThere, "The build has no such test: load the page anew.");
}
