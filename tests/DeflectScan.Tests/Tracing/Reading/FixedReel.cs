using System.Text.Json;
using DeflectScan.Scenes;
using DeflectScan.Tracing.Reading;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>A picture of <c>testimages/reels</c> and what it shows: scenes of our own that the network was not trained on (docs/reader.md).</summary>
/// <param name="Seed">Of the scene; also the picture's name.</param>
/// <param name="Reel">Column of the reel's front; null where the rod has no reel.</param>
internal sealed record FixedReel(int Seed, double? Reel)
{
    private static readonly string Folder = Path.Combine(Repository.TestImages, "reels");
    private static readonly JsonSerializerOptions LowerCase = new() { PropertyNameCaseInsensitive = true };

    public static IReadOnlyList<FixedReel> All() => JsonSerializer.Deserialize<FixedReel[]>(File.ReadAllText(Path.Combine(Folder, "reels.json")), LowerCase)!;

    /// <summary>Where the pixels lie; the station's zero does not matter here.</summary>
    public static ReelPicture Frame => new(ReelPicture.Columns, 1);

    /// <summary>What the network says of it.</summary>
    public ReelReading Read()
    {
        using Mat picture = Cv2.ImRead(Path.Combine(Folder, $"{Seed}.jpg"), ImreadModes.Color);
        return ReelReader.Read(picture, Frame);
    }
}
