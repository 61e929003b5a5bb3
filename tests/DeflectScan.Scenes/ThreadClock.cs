using System.Diagnostics;
using System.Globalization;

namespace DeflectScan.Scenes;

/// <summary>
/// Time of this thread on the processor, for bars that are meant for a processor of one's own while other tests run beside.
/// Measure some tens of milliseconds at a time: Linux brings the figure up to date at its clock's ticks.
/// </summary>
public static class ThreadClock
{
    /// <summary>Linux: first figure of schedstat, nanoseconds that this thread ran, as milliseconds. Elsewhere the clock on the wall.</summary>
    public static double Milliseconds() => File.Exists("/proc/thread-self/schedstat")
        ? double.Parse(File.ReadAllText("/proc/thread-self/schedstat").Split(' ')[0], CultureInfo.InvariantCulture) / 1e6
        : Stopwatch.GetTimestamp() * 1000.0 / Stopwatch.Frequency;

    /// <summary>
    /// Mean time of one run of <paramref name="work"/>, ms: least of the rounds until one is within <paramref name="bar"/>, or of all.
    /// The rounds give the runtime time to compile the code for speed, which it puts off for as long as other tests keep it compiling;
    /// work that is too slow when compiled for speed is too slow in every round.
    /// </summary>
    /// <param name="bar">Milliseconds that one run may take.</param>
    /// <param name="runs">Runs of a round.</param>
    /// <param name="rounds">How often to try.</param>
    public static double Mean(double bar, int runs, int rounds, Action work)
    {
        double least = double.PositiveInfinity;
        for (int round = 0; round < rounds && least > bar; round++)
        {
            double start = Milliseconds();
            for (int run = 0; run < runs; run++)
                work();
            least = Math.Min(least, (Milliseconds() - start) / runs);
        }

        return least;
    }
}
