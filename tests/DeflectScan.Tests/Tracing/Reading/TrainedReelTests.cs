using System.Globalization;
using System.Text.Json;
using DeflectScan.Scenes;
using DeflectScan.Tracing.Reading;
using OpenCvSharp;
using Xunit.Abstractions;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>
/// What the reel's network is worth on 40 pictures of scenes that it was not trained on, against their exact truth; the bars are what these weights measured
/// when they were put in, a little rounded up. docs/reader.md is written anew with new weights.
/// </summary>
public class TrainedReelTests(ITestOutputHelper output)
{
    private static readonly string Folder = Path.Combine(Repository.TestImages, "reels");
    private static readonly JsonSerializerOptions LowerCase = new() { PropertyNameCaseInsensitive = true };

    /// <summary>A picture and what it shows.</summary>
    /// <param name="Seed">Of the scene; also the picture's name.</param>
    /// <param name="Column">Of the reel's front, px; null where there is no reel.</param>
    private sealed record FixedReel(int Seed, double? Column)
    {
        public ReelReader Read()
        {
            using Mat picture = Cv2.ImRead(Path.Combine(Folder, $"{Seed}.jpg"), ImreadModes.Color);
            return ReelReader.Read(picture);
        }
    }

    [Fact]
    public void EveryReelIsSeenWhereItIsAndNoneWhereThereIsNone()
    {
        FixedReel[] pictures = JsonSerializer.Deserialize<FixedReel[]>(File.ReadAllText(Path.Combine(Folder, "reels.json")), LowerCase)!;
        (FixedReel Picture, ReelReader Read)[] all = [.. pictures.Select(p => (p, p.Read()))];
        (FixedReel Picture, ReelReader Read)[] with = [.. all.Where(r => r.Picture.Column is not null)];
        Assert.Equal((40, 33), (all.Length, with.Length));
        double[] off = [.. with.Select(r => Math.Abs(r.Read.Column - r.Picture.Column!.Value)).Order()];
        string said = string.Create(CultureInfo.InvariantCulture, $"half within {off[16]:0.00} mm, 95 % within {off[31]:0.00}; least sure of one {with.Max(r => r.Read.None):g2}, of none {all.Where(r => r.Picture.Column is null).Min(r => r.Read.None):g2}");
        output.WriteLine(said);
        Assert.True(off[16] < 0.6 && off[31] < 2.2, said);
        Assert.All(with, r => Assert.True(r.Read.None < 0.01 && r.Read.SdPx < 6));
        Assert.All(all.Where(r => r.Picture.Column is null), r => Assert.True(r.Read.None > 0.5));
        Assert.All(with, r => Assert.InRange(Math.Abs(r.Read.Column - r.Picture.Column!.Value), 0, 6 * r.Read.SdPx));
    }

    /// <summary>Not one bit depends on the number of threads.</summary>
    [Fact]
    public void ThreadsDoNotChangeAReading()
    {
        FixedReel picture = new(1500000, null);
        int before = Cv2.GetNumThreads();
        try
        {
            Cv2.SetNumThreads(1);
            ReelReader one = picture.Read();
            Cv2.SetNumThreads(2);
            Assert.Equal(one, picture.Read());
        }
        finally
        {
            Cv2.SetNumThreads(before);
        }
    }
}
