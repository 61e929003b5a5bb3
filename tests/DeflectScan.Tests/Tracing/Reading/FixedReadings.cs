using System.Diagnostics;
using DeflectScan.Tracing.Reading;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>All fixed strips, read once with two of OpenCV's threads and once with one.</summary>
public sealed class FixedReadings
{
    public FixedReadings()
    {
        Strips = FixedStrip.All();
        int threads = Cv2.GetNumThreads();
        try
        {
            _ = Strips[0].Read();
            (ByTwo, MsByTwo) = ReadAll(2);
            (ByOne, MsByOne) = ReadAll(1);
        }
        finally
        {
            Cv2.SetNumThreads(threads);
        }

        Scores = [.. Strips.Zip(ByTwo, StripScore.Of)];
    }

    internal IReadOnlyList<FixedStrip> Strips { get; }

    internal IReadOnlyList<StripReading> ByTwo { get; }

    internal IReadOnlyList<StripReading> ByOne { get; }

    internal IReadOnlyList<StripScore> Scores { get; }

    /// <summary>The middle one of the strips' times, warm, their JPEGs' decoding with it, ms.</summary>
    internal double MsByTwo { get; }

    internal double MsByOne { get; }

    private (IReadOnlyList<StripReading> Readings, double Ms) ReadAll(int threads)
    {
        Cv2.SetNumThreads(threads);
        List<StripReading> read = [];
        List<double> ms = [];
        foreach (FixedStrip strip in Strips)
        {
            Stopwatch watch = Stopwatch.StartNew();
            read.Add(strip.Read());
            ms.Add(watch.Elapsed.TotalMilliseconds);
        }

        return (read, ms.Order().ElementAt(ms.Count / 2));
    }
}
