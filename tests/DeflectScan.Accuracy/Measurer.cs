using System.Diagnostics;
using DeflectScan.Accuracy.Compare;
using DeflectScan.Measuring;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Accuracy;

/// <summary>A measurement with the time that it took.</summary>
internal sealed record Timed(Measurement Measurement, double Seconds, IReadOnlyList<StageTime> Stages);

/// <summary>Where measurements come from.</summary>
internal static class Measurer
{
    /// <summary>Measures a photo here, in this process; with no hint unless options are given.</summary>
    public static Timed Measure(string photoPath, MeasureOptions? options = null)
    {
        StageClock clock = new();
        Measurement measurement = MeasurePipeline.Measure(photoPath, options ?? MeasureOptions.Default, clock);
        return new Timed(measurement, clock.Elapsed.TotalSeconds, clock.Stages());
    }

    /// <summary>Documents written before: DIR/NAME/measurement.json, or DIR/NAME.json.</summary>
    public static Timed FromFile(DirectoryInfo folder, string name)
    {
        string inFolder = Path.Combine(folder.FullName, name, "measurement.json");
        string path = File.Exists(inFolder) ? inFolder : Path.Combine(folder.FullName, $"{name}.json");
        return new Timed(MeasurementJson.Read(File.ReadAllText(path)).Value!, 0, []);
    }

    // Notes when each stage begins; called on the measuring thread itself.
    private sealed class StageClock : IProgress<string>
    {
        private readonly Stopwatch _watch = Stopwatch.StartNew();
        private readonly List<(string Name, TimeSpan At)> _begun = [];

        public TimeSpan Elapsed => _watch.Elapsed;

        public void Report(string value) => _begun.Add((value, _watch.Elapsed));

        public IReadOnlyList<StageTime> Stages()
        {
            TimeSpan end = _watch.Elapsed;
            return [.. _begun.Select((b, i) => new StageTime(b.Name, ((i + 1 < _begun.Count ? _begun[i + 1].At : end) - b.At).TotalMilliseconds))];
        }
    }
}
