using System.Diagnostics;
using System.Globalization;
using System.Text;
using DeflectScan.Checking;
using DeflectScan.Measuring;
using DeflectScan.Photos;
using DeflectScan.Reporting.Json;
using DeflectScan.Scenes;
using DeflectScan.Teaching;
using DeflectScan.Web.Pictures;

namespace DeflectScan.Nightly.Pages;

/// <summary>Where a class's time goes: wall and processor time of each step that a phone's photo passes, one photo after another, in a process that is warm.</summary>
internal static class ClassCost
{
    public static int Run(IReadOnlyList<string> photos, int rounds)
    {
        Dictionary<string, (double Wall, double Cpu)> sums = [];
        List<string> order = [];
        for (int round = 0; round < rounds + 2; round++)
        {
            if (round == 2)
                sums.Clear(); // two rounds to warm up: code is compiled for good in them
            foreach (string name in photos)
                One(Path.Combine(Repository.TestImages, name, "photo.jpg"), (step, wall, cpu) =>
                {
                    if (!order.Contains(step))
                        order.Add(step);
                    (double w, double c) = sums.GetValueOrDefault(step);
                    sums[step] = (w + wall, c + cpu);
                });
        }

        double n = rounds * photos.Count;
        foreach (string step in order)
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{step,-44} {1000 * sums[step].Wall / n,6:0} ms {1000 * sums[step].Cpu / n,6:0} ms of processor"));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{"all",-44} {1000 * sums.Values.Sum(s => s.Wall) / n,6:0} ms {1000 * sums.Values.Sum(s => s.Cpu) / n,6:0} ms of processor"));
        return 0;
    }

    private static void One(string path, Action<string, double, double> took)
    {
        byte[] given = File.ReadAllBytes(path);
        Timed("place and owner taken out", () => PlainPhoto.Of(given));
        Timed("check of a bench's photo", () => PhotoChecker.Check(path));
        Timed("check of a class's photo: the cards", () => PhotoChecker.CheckCards(path));
        Steps steps = new(took);
        using MeasureRun run = MeasurePipeline.Run(path, MeasureOptions.Default, steps);
        steps.End();
        Timed("overview", () => PhotoPictures.OverviewOf(given));
        string document = Timed("document", () => MeasurementJson.Write(run.Measurement));
        Measurement kept = Timed("document read again", () => MeasurementJson.Read(document).Value!);
        if (run is { Plane: { } plane, Photo: { } photo } && run.Measurement.Blank is not null)
            Timed("map for the page", () => PlaneGrid.Of(run.Measurement, plane, photo.Info));
        ClassRod rod = Timed("rod for the board", () => RodReading.Of(new ClassPhoto("", "a", kept)));
        Timed("what the student is told", () => RodAdvice.Of(rod));

        T Timed<T>(string step, Func<T> work)
        {
            (long start, TimeSpan cpu) = (Stopwatch.GetTimestamp(), Environment.CpuUsage.TotalTime);
            T made = work();
            took(step, Stopwatch.GetElapsedTime(start).TotalSeconds, (Environment.CpuUsage.TotalTime - cpu).TotalSeconds);
            return made;
        }
    }

    private sealed class Steps(Action<string, double, double> took) : IProgress<string>
    {
        private string? _now;
        private long _start;
        private TimeSpan _cpu;

        public void Report(string value)
        {
            End();
            (_now, _start, _cpu) = (value, Stopwatch.GetTimestamp(), Environment.CpuUsage.TotalTime);
        }

        public void End()
        {
            if (_now is not null)
                took(_now, Stopwatch.GetElapsedTime(_start).TotalSeconds, (Environment.CpuUsage.TotalTime - _cpu).TotalSeconds);
            _now = null;
        }
    }
}
