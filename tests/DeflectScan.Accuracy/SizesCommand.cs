using System.CommandLine;
using System.Diagnostics;
using System.Text.Json;
using DeflectScan.Accuracy.Report;
using DeflectScan.Scenes.Rendering;

namespace DeflectScan.Accuracy;

/// <summary>sizes: one scene at growing sizes, each measured in a process of its own, for time and peak memory per megapixel.</summary>
internal static class SizesCommand
{
    private static readonly double[] Megapixels = [3, 6, 12, 25, 50];

    public static Command Create()
    {
        Option<int> seed = new("--seed") { Description = "Seed of the scene.", DefaultValueFactory = _ => 1 };
        Command command = new("sizes", "Measure one scene from 3 to 50 megapixels: seconds and memory.") { seed };
        command.SetAction(arguments => Run(arguments.GetValue(seed)));
        return command;
    }

    private static void Run(int seed)
    {
        string folder = Directory.CreateTempSubdirectory("deflectscan-sizes-").FullName;
        try
        {
            List<string[]> rows = [["megapixels", "status", "seconds", "peak MB", "seconds a MP", "MB a MP"]];
            foreach (double megapixels in Megapixels)
            {
                int width = (int)(Math.Sqrt(megapixels * 1e6 / 12) * 4);
                SceneOptions options = RandomScenes.Good(seed, 0.1) with { WidthPx = width, HeightPx = width * 3 / 4, RollDeg = 1, Orientation = 1, Name = $"{megapixels}mp" };
                string own = Path.Combine(folder, options.Name);
                new Scene(options).WriteTo(Path.Combine(own, options.Name));
                (string status, double seconds, double peak) = MeasureApart(own);
                rows.Add([$"{megapixels}", status, $"{seconds:0.00}", $"{peak:0}", $"{seconds / megapixels:0.000}", $"{peak / megapixels:0.0}"]);
                Directory.Delete(own, recursive: true);
            }

            Tables.Print(Console.Out, rows);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static (string Status, double Seconds, double Peak) MeasureApart(string folder)
    {
        string json = Path.Combine(folder, "result.json");
        using Process child = Process.Start(new ProcessStartInfo(Environment.ProcessPath!, ["compare", folder, "--json", json]) { UseShellExecute = false, RedirectStandardOutput = true, RedirectStandardError = true })!;
        _ = child.StandardError.ReadToEndAsync();
        child.StandardOutput.ReadToEnd();
        child.WaitForExit();
        using JsonDocument result = JsonDocument.Parse(File.ReadAllText(json));
        JsonElement photo = result.RootElement.GetProperty("photos")[0];
        return (photo.GetProperty("status").GetString()!, photo.GetProperty("seconds").GetDouble(), result.RootElement.GetProperty("peak_mb").GetDouble());
    }
}
