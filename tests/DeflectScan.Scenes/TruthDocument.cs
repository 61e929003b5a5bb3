using DeflectScan.Photos;
using DeflectScan.Reporting.Json;

namespace DeflectScan.Scenes;

/// <summary>A test photo's exact truth as a measurement document, without opening the photo.</summary>
public static class TruthDocument
{
    public static Measurement Of(string name) => Of(Repository.Truth(name));

    public static Measurement Of(Truth truth) => TruthMeasurement.From(
        truth, new PhotoInfo("photo.jpg", new string('0', 64), truth.Image.Displayed[0], truth.Image.Displayed[1], 1, null, null, null, null, null, null, null));

    public static string Text(string name) => MeasurementJson.Write(Of(name));
}
