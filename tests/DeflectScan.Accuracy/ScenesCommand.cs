using System.CommandLine;
using System.Diagnostics;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Tracing;

namespace DeflectScan.Accuracy;

/// <summary>scenes: writes rendered photographs with their truth into a folder.</summary>
internal static class ScenesCommand
{
    public static Command Create()
    {
        Option<int> count = new("--count") { Description = "How many good scenes.", DefaultValueFactory = _ => 10 };
        Option<int> seed = new("--seed") { Description = "Seed of the first scene; the next ones count up.", DefaultValueFactory = _ => 1 };
        Option<double?> difficulty = new("--difficulty") { Description = "0 plain to 1 cluttered; without it, it rises over the scenes." };
        Option<bool> bad = new("--bad") { Description = "One scene of every defect instead of good ones." };
        Option<BendSide?> side = new("--side") { Description = "Only scenes of this side, outside (casting) or inside (spinning): seeds of the other are passed over." };
        Option<double?> megapixels = new("--megapixels") { Description = "Size of every photo, at its own aspect; without it, sizes are drawn." };
        Option<DirectoryInfo> output = new("--out") { Description = "Folder to write into.", Required = true };
        Option<bool> wide = new("--wide") { Description = "Scenes drawn far wider: guides held by tubing, bands or tape, any wall and clutter, hand-held phones; 3 to 6 megapixels mostly." };
        Option<bool> loads = new("--loads") { Description = "Each good scene's rod also at rest and at two other loads, in the same clamp beside the same cards (name-rest, -light, -deep)." };
        Command command = new("scenes", "Render scenes into a folder.") { count, seed, difficulty, bad, loads, wide, side, megapixels, output };
        command.SetAction(arguments =>
        {
            int n = arguments.GetValue(count);
            int first = arguments.GetValue(seed);
            double? given = arguments.GetValue(difficulty);
            IEnumerable<SceneOptions> scenes = arguments.GetValue(bad)
                ? Enum.GetValues<Defect>().Where(d => d != Defect.None).Select(d => RandomScenes.Bad(first, d))
                : Good(arguments.GetValue(wide) ? RandomScenes.Wide : RandomScenes.Good, first, n, given, arguments.GetValue(side));
            foreach (SceneOptions scene in scenes.SelectMany(s => arguments.GetValue(loads) ? AtLoads(s) : (SceneOptions[])[s]))
                Write(Sized(scene, arguments.GetValue(megapixels)), arguments.GetValue(output)!);
        });
        return command;
    }

    // One rod at rest and with its tip turned by 40, 65 and 85 degrees; the camera is aimed anew each time.
    private static IEnumerable<SceneOptions> AtLoads(SceneOptions o) =>
        new (string Load, double Turn)[] { ("rest", 0), ("light", 40), ("mid", 65), ("deep", 85) }
            .Select(l => o with { Name = $"{o.Name}-{l.Load}", TipTurnDeg = l.Turn, SetUpTurnsDeg = [0, 40, 65, 85] });

    private static IEnumerable<SceneOptions> Good(Func<int, double, SceneOptions> draw, int seed, int count, double? difficulty, BendSide? side)
    {
        for (int i = 0; i < count; seed++)
        {
            SceneOptions scene = draw(seed, difficulty ?? (count > 1 ? i / (double)(count - 1) : 0.5));
            if (side is { } only && scene.Side != only)
                continue;
            i++;
            yield return scene;
        }
    }

    private static SceneOptions Sized(SceneOptions scene, double? megapixels)
    {
        double by = megapixels is { } m ? Math.Sqrt(m * 1e6 / ((double)scene.WidthPx * scene.HeightPx)) : 1;
        return scene with { WidthPx = 8 * (int)Math.Round(scene.WidthPx * by / 8), HeightPx = 8 * (int)Math.Round(scene.HeightPx * by / 8) };
    }

    private static string Held(SceneOptions options) => options.Build is { } build ? $", {build.Holder}" : string.Empty;

    private static void Write(SceneOptions options, DirectoryInfo output)
    {
        Stopwatch watch = Stopwatch.StartNew();
        new Scene(options).WriteTo(Path.Combine(output.FullName, options.Name));
        Console.WriteLine($"{options.Name}: {options.WidthPx} x {options.HeightPx}, {options.Side}, {options.Guides} guides, {options.Backdrop?.Pattern.ToString() ?? options.Wall.ToString()}{Held(options)}, {watch.ElapsedMilliseconds} ms");
    }
}
