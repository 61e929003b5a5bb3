using DeflectScan.Records;
using DeflectScan.Records.Model;

namespace DeflectScan.Cli.Commands.Records;

/// <summary>How a person names one of a build's measurements.</summary>
internal static class MeasurementArgument
{
    private const int FewestDigits = 4;

    /// <summary>The measurement of a label, or of the end of an id.</summary>
    /// <exception cref="ArchiveException">None or several.</exception>
    public static StoredMeasurement Named(Build build, string name)
    {
        StoredMeasurement[] meant = [.. build.Measurements.Where(m =>
            string.Equals(m.Label, name, StringComparison.OrdinalIgnoreCase) || (name.Length >= FewestDigits && m.Id.EndsWith(name, StringComparison.OrdinalIgnoreCase)))];
        return meant switch
        {
            [var one] => one,
            [] => throw new ArchiveException(ArchiveProblem.Refused, "The build has no measurement of that label or id: deflectscan records show lists them."),
            _ => throw new ArchiveException(ArchiveProblem.Refused, $"{meant.Length} measurements are called that: give the end of one's id, {string.Join(" or ", meant.Take(4).Select(m => m.Id[^8..]))}."),
        };
    }
}
