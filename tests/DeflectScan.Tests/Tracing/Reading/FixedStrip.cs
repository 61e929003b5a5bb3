using System.Text.Json;
using DeflectScan.Scenes;
using DeflectScan.Tracing.Reading;
using OpenCvSharp;

namespace DeflectScan.Tests.Tracing.Reading;

/// <summary>A strip of <c>testimages/strips</c> and what it shows: scenes of our own that the network was not trained on (docs/reader.md).</summary>
/// <param name="Seed">Of the scene; also the picture's name.</param>
/// <param name="Columns">Width, px.</param>
/// <param name="Inside">Whether the guides stand on the inside of the bend.</param>
/// <param name="Rings">Column and row of every guide's ring contact, from the reel to the tip.</param>
/// <param name="Tip">The same of the tip-top's ring.</param>
/// <param name="Reel">Column of the reel's front; null where the rod has no reel.</param>
internal sealed record FixedStrip(int Seed, int Columns, bool Inside, double[][] Rings, double[] Tip, double? Reel)
{
    private static readonly string Folder = Path.Combine(Repository.TestImages, "strips");
    private static readonly JsonSerializerOptions LowerCase = new() { PropertyNameCaseInsensitive = true };

    /// <summary>Where the strip's pixels lie; the station's zero does not matter here.</summary>
    public StripFrame Frame => new(Columns, Columns, 1);

    public static IReadOnlyList<FixedStrip> All() =>
        JsonSerializer.Deserialize<FixedStrip[]>(File.ReadAllText(Path.Combine(Folder, "strips.json")), LowerCase)!;

    /// <summary>What the network says of it.</summary>
    public StripReading Read()
    {
        using Mat strip = Cv2.ImRead(Path.Combine(Folder, $"{Seed}.jpg"), ImreadModes.Color);
        return StripReader.Read(strip, Frame);
    }

    /// <summary>What it says after a second look.</summary>
    public StripReading ReadAgain(StripReading first)
    {
        using Mat strip = Cv2.ImRead(Path.Combine(Folder, $"{Seed}.jpg"), ImreadModes.Color);
        return SecondLook.Of(strip, first);
    }
}
