using DeflectScan.Measuring;
using DeflectScan.Records.Model;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Records.Keeping;

/// <summary>How a measurement came out when it was made again from what is stored.</summary>
public enum RemeasureVerdict
{
    /// <summary>The same document, byte for byte.</summary>
    Same,

    /// <summary>Another document, and another version or build of the program made it: to be expected.</summary>
    OtherVersion,

    /// <summary>Another document from the very same build: something is not as it was.</summary>
    Different,
}

/// <summary>A stored measurement that was made again.</summary>
/// <param name="Build">The build's name.</param>
/// <param name="Measurement">As it is kept.</param>
/// <param name="Verdict">How it came out.</param>
/// <param name="GapsDifferByMm">By how much gaps differ at most; null where they do not have the same pairs.</param>
public sealed record Remeasured(string Build, StoredMeasurement Measurement, RemeasureVerdict Verdict, double? GapsDifferByMm);

/// <summary>Makes a stored measurement again from its photo, lens profile and settings.</summary>
public static class Remeasuring
{
    /// <summary>Measures every stored photo again, one after the other as they are asked for.</summary>
    public static IEnumerable<Remeasured> All(ArchiveReader reader, CancellationToken cancel = default)
    {
        for (int page = 1; reader.List(page) is { Count: > 0 } builds; page++)
        {
            foreach ((BuildSummary build, StoredMeasurement stored) in builds.SelectMany(b => reader.Build(b.Id)!.Measurements.Select(m => (b, m))))
            {
                cancel.ThrowIfCancellationRequested();
                using MeasureRun run = Run(reader, stored);
                yield return new Remeasured(build.Name, stored, Compare(reader, stored, run.Measurement), GapsDifferByMm(reader.Measurement(stored), run.Measurement));
            }
        }
    }

    /// <summary>Measures again.</summary>
    /// <param name="reader">The archive.</param>
    /// <param name="stored">The measurement.</param>
    /// <param name="measure">What measures: photo, options; its photo's name is the one in the archive.</param>
    /// <returns>The measurement with the photo's original name, as made now; the caller disposes it.</returns>
    public static MeasureRun Run(ArchiveReader reader, StoredMeasurement stored, Func<string, MeasureOptions, MeasureRun>? measure = null)
    {
        MeasureOptions options = SettingsJson.Read(stored.Settings);
        string? lensFile = null;
        try
        {
            if (reader.LensProfile(stored) is { } profile)
            {
                lensFile = Path.Combine(Path.GetTempPath(), Path.GetRandomFileName());
                File.WriteAllText(lensFile, profile);
                options = options with { LensFile = lensFile };
            }

            MeasureRun run = (measure ?? ((photo, o) => MeasurePipeline.Run(photo, o)))(reader.PhotoPath(stored), options);
            string? name = reader.Measurement(stored).Photo?.FileName;
            return run.Measurement.Photo is { } info && name is not null ? run with { Measurement = run.Measurement with { Photo = info with { FileName = name } } } : run;
        }
        finally
        {
            if (lensFile is not null)
                File.Delete(lensFile);
        }
    }

    /// <summary>Whether a measurement made again is the stored one.</summary>
    public static RemeasureVerdict Compare(ArchiveReader reader, StoredMeasurement stored, Measurement again)
    {
        if (MeasurementJson.Write(again) == reader.Document(stored))
            return RemeasureVerdict.Same;
        return ProgramBuild.Of(again.ToolVersion) == stored.ProgramVersion ? RemeasureVerdict.Different : RemeasureVerdict.OtherVersion;
    }

    /// <summary>By how much the gaps of two measurements of one photo differ at most, mm; null where they do not have the same pairs.</summary>
    public static double? GapsDifferByMm(Measurement stored, Measurement again) =>
        stored.Intervals.Count > 0 && stored.Intervals.Select(i => (i.From, i.To)).SequenceEqual(again.Intervals.Select(i => (i.From, i.To)))
            ? stored.Intervals.Zip(again.Intervals, (a, b) => Math.Abs(a.GapMm - b.GapMm)).Max()
            : null;
}
