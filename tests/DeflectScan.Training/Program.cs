using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Training;

// What the networks learn from: scenes rendered, each as a straightened strip and a small photo with what they show.
//   render OUT FIRST COUNT [LEAST_DIFFICULTY]   seeds FIRST to FIRST + COUNT - 1, this process alone; run several for several cores
//   reels OUT FIRST COUNT [LEAST_DIFFICULTY]    the reel alone, of scenes drawn at a share of their size: less to compute, more to learn from
//   convert OUT FOLDER…                         the same of photos with truth.json, for looking at what was never trained on
if (args is [("render" or "reels") and var kind, var into, var first, var count, ..])
{
    double least = args.Length > 4 ? double.Parse(args[4], System.Globalization.CultureInfo.InvariantCulture) : 0;
    Directory.CreateDirectory(into);
    for (int seed = int.Parse(first); seed < int.Parse(first) + int.Parse(count); seed++)
    {
        Random chance = new(unchecked((seed * 92821) + 11));
        double difficulty = least + ((1 - least) * chance.NextDouble());
        try
        {
            SceneOptions options = RandomScenes.Wide(seed, difficulty);
            Scene scene = new(kind == "reels" ? Smaller(options, chance) : options);
            Action<string, byte[], Truth, Random> write = kind == "reels" ? Lesson.WriteReel : Lesson.Write;
            write(Path.Combine(into, $"{seed}"), scene.RenderJpeg(), scene.Truth, chance);
        }
        catch (Exception e) when (e is InvalidOperationException or ArgumentException)
        {
            Console.Error.WriteLine($"{seed}: {e.Message}");
        }
    }

    return 0;
}

if (args is ["convert", var to, ..])
{
    Directory.CreateDirectory(to);
    foreach (string truth in args.Skip(2).SelectMany(f => Directory.EnumerateFiles(f, "truth.json", SearchOption.AllDirectories)).Order())
    {
        string folder = Path.GetDirectoryName(truth)!;
        Truth read = Truth.Read(truth);
        if (!read.ExpectsOk)
            continue;
        string path = Path.Combine(to, Path.GetFileName(Path.GetDirectoryName(folder)!) + "-" + Path.GetFileName(folder));
        byte[] photo = File.ReadAllBytes(Path.Combine(folder, "photo.jpg"));
        Lesson.Write(path, photo, read, new Random(1));
        Lesson.WriteReel(path + "-r", photo, read, new Random(1));
    }

    return 0;
}

Console.Error.WriteLine("render|reels OUT FIRST COUNT [LEAST_DIFFICULTY] | convert OUT FOLDER…");
return 2;

// The reel's network looks at 1 mm a pixel: a photo a third to six tenths as wide shows as much.
static SceneOptions Smaller(SceneOptions o, Random chance)
{
    double share = 0.33 + (0.27 * chance.NextDouble());
    return o with { WidthPx = (int)(o.WidthPx * share), HeightPx = (int)(o.HeightPx * share) };
}
