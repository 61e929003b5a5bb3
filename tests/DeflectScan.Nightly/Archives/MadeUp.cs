using System.Security.Cryptography;
using DeflectScan.Records;
using DeflectScan.Records.Model;
using DeflectScan.Scenes.Samples;
using DeflectScan.Tracing;

namespace DeflectScan.Nightly.Archives;

/// <summary>Made-up builds, photos and measurements: files of random bytes stand for photos, as an archive never looks into them.</summary>
internal static class MadeUp
{
    private static readonly string[] Uses = ["bass, finesse", "pike, lures", "trout, stream", "surf", "perch, jigs"];
    private static readonly string[] Lines = ["braid 10 lb", "braid 20 lb", "monofilament 8 lb", "fluorocarbon 12 lb"];
    private static readonly int[] Reels = [1000, 2000, 2500, 3000, 4000, 5000];

    public static BuildFacts Facts(int number)
    {
        Random random = new(number);
        double length = 1800 + (random.Next(0, 13) * 100) + random.Next(0, 50);
        return new BuildFacts
        {
            Name = $"Build {number}",
            Owner = random.Next(3) == 0 ? null : $"Person {random.Next(400)}, \"the {Uses[random.Next(Uses.Length)]}\" one",
            Blank = $"Blank {random.Next(60)}-{length:0} ML",
            BlankLengthMm = length,
            Pieces = random.Next(1, 4),
            SpineMark = "pencil line at the butt, +15°",
            Handle = "split, 320 mm",
            ReelClass = Reels[random.Next(Reels.Length)],
            Line = Lines[random.Next(Lines.Length)],
            Side = random.Next(4) == 0 ? BendSide.Outside : BendSide.Inside,
            Use = Uses[random.Next(Uses.Length)],
            Remarks = random.Next(2) == 0 ? null : "Thread dark green;\nfinish thin — «as ordered».",
            Guides = [.. Enumerable.Range(0, 8).Select(i => new GuideEntry(i < 3 ? "high frame" : "low frame", i < 3 ? 20 - (5 * i) : 6, (7 - i) * (length / 12), (length * 0.75) - ((7 - i) * (length / 12))))],
        };
    }

    /// <summary>A file of random bytes that begins as a JPEG does.</summary>
    public static string Photo(string folder, int number, int bytes = 4000)
    {
        byte[] content = new byte[bytes];
        new Random(number).NextBytes(content);
        (content[0], content[1], content[2]) = (0xFF, 0xD8, 0xFF);
        string path = Path.Combine(folder, $"photo {number}.jpg");
        File.WriteAllBytes(path, content);
        return path;
    }

    /// <summary>A measurement that says it was made from that file.</summary>
    public static NewMeasurement Measurement(string photo, int number)
    {
        Random random = new(number);
        Measurement m = SampleMeasurement.Ok;
        string sha256 = Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(photo)));
        return new NewMeasurement(
            m with
            {
                Photo = m.Photo! with { FileName = Path.GetFileName(photo), Sha256 = sha256 },
                Status = number % 4 == 0 ? MeasurementStatus.NeedsReview : MeasurementStatus.Ok,
                Blank = m.Blank! with { TipTurnDeg = 60 + (random.NextDouble() * 50), TracedLengthMm = 1500 + random.Next(400) },
                Intervals = [.. m.Intervals.Select(i => i with { Gap = i.Gap with { Mm = i.GapMm + random.NextDouble() } })],
            },
            photo,
            new MeasureOptions { GuideCount = 2, Side = BendSide.Inside, Marks = Marks.None with { TipPx = new(12.5, 7) } },
            number % 3 == 0 ? $"{{\"name\": \"lens {number % 2}\"}}" : null,
            $"test {number}");
    }

    /// <summary>An archive with some builds of every kind.</summary>
    public static void Fill(string folder, string photos, int first, int builds)
    {
        Archive.Create(folder);
        using ArchiveWriter writer = Archive.OpenForWriting(folder);
        for (int number = first; number < first + builds; number++)
            AddOne(writer, photos, number);
    }

    /// <summary>One build with two measurements, a layout that is chosen and a note; gives its id.</summary>
    public static string AddOne(ArchiveWriter writer, string photos, int number) => writer.AsOne(() =>
    {
        string id = writer.AddBuild(Facts(number));
        writer.AddMeasurement(id, Measurement(Photo(photos, number), number));
        writer.AddMeasurement(id, Measurement(Photo(photos, number + 100_000), number + 1));
        string layout = writer.AddLayout(id, "one more guide", "The first test's suggestion.", [new LayoutStation(402, 1120, 25, 38), new LayoutStation(102.5, null, null, null), new LayoutStation(0, 1522, 7, 5)]);
        writer.ChooseLayout(id, layout);
        writer.AddNote(id, NoteKind.TestCast, $"Cast {number}: \"clean\", 42 m, wind 3; line, leader");
        return id;
    });
}
