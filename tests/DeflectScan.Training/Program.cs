using DeflectScan.Scenes;
using DeflectScan.Scenes.Rendering;
using DeflectScan.Training;

// What the networks learn from: scenes rendered, each as a straightened strip and a small photo with what they show.
//   render OUT FIRST COUNT [LEAST_DIFFICULTY]   seeds FIRST to FIRST + COUNT - 1, this process alone; run several for several cores
//   reels OUT FIRST COUNT [LEAST_DIFFICULTY]    the same, the handle with its reel alone
//   convert OUT FOLDER…                         the same of photos with truth.json, for looking at what was never trained on
if (args is ["render" or "reels", var into, var first, var count, ..])
{
    double least = args.Length > 4 ? double.Parse(args[4], System.Globalization.CultureInfo.InvariantCulture) : 0;
    Directory.CreateDirectory(into);
    for (int seed = int.Parse(first); seed < int.Parse(first) + int.Parse(count); seed++)
    {
        Random chance = new(unchecked((seed * 92821) + 11));
        double difficulty = least + ((1 - least) * chance.NextDouble());
        try
        {
            Scene scene = new(RandomScenes.Wide(seed, difficulty));
            string path = Path.Combine(into, $"{seed}");
            if (args[0] == "reels")
                ReelLesson.Write(path, scene, chance);
            else
                Lesson.Write(path, scene.RenderJpeg(), scene.Truth, chance);
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
        if (read.ExpectsOk)
        {
            string path = Path.Combine(to, Path.GetFileName(Path.GetDirectoryName(folder)!) + "-" + Path.GetFileName(folder));
            byte[] jpeg = File.ReadAllBytes(Path.Combine(folder, "photo.jpg"));
            Lesson.Write(path, jpeg, read, new Random(1));
            ReelLesson.Write(path + "-reel", jpeg, read, new Random(1));
        }
    }

    return 0;
}

Console.Error.WriteLine("render|reels OUT FIRST COUNT [LEAST_DIFFICULTY] | convert OUT FOLDER…");
return 2;
