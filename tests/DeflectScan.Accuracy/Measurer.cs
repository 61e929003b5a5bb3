using DeflectScan.Accuracy.Compare;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Accuracy;

/// <summary>A measurement with the time that it took.</summary>
internal sealed record Timed(Measurement Measurement, double Seconds, IReadOnlyList<StageTime> Stages);

/// <summary>Where measurements come from.</summary>
internal static class Measurer
{
    /// <summary>Documents written before: DIR/NAME/measurement.json, or DIR/NAME.json.</summary>
    public static Timed FromFile(DirectoryInfo folder, string name)
    {
        string inFolder = Path.Combine(folder.FullName, name, "measurement.json");
        string path = File.Exists(inFolder) ? inFolder : Path.Combine(folder.FullName, $"{name}.json");
        return new Timed(MeasurementJson.Read(File.ReadAllText(path)), 0, []);
    }
}
